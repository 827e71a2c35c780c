import crypto from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'

/** The variable in which the start hands the secret to the web server. */
export const SIGN_IN_SECRET_VARIABLE = 'GUDGEON_SIGN_IN_SECRET'

/**
 * The secret that signs session cookies: made at the first start, in a file that its owner alone may read. Without it
 * everybody signs in anew, and nothing else is lost.
 *
 * @param home the product's folder; made when it is missing
 */
export function ensureSignInSecret(home: string): string {
  const file = path.join(home, 'sign-in.secret')
  if (!fs.existsSync(file)) placeSecret(home, file)
  return fs.readFileSync(file, 'utf8')
}

/** Made beside and linked in whole: a start that is killed leaves no half secret, and of two at once one is first. */
function placeSecret(home: string, file: string): void {
  fs.mkdirSync(home, { recursive: true })
  const folder = fs.mkdtempSync(path.join(home, 'secret-'))
  const unplaced = path.join(folder, 'secret')
  fs.writeFileSync(unplaced, crypto.randomBytes(32).toString('base64url'), { mode: 0o600 })
  try {
    fs.linkSync(unplaced, file)
  } catch (error) {
    if (!fs.existsSync(file)) throw error
  } finally {
    fs.rmSync(folder, { recursive: true })
  }
}
