import crypto from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'

/** PostgreSQL refuses to run as root; root starts it as this user (nobody), who owns nothing else. */
const NOBODY = { uid: 65534, gid: 65534 }

export const RUNS_AS_ROOT = process.getuid?.() === 0

/** Who the server's processes run as: nobody when we are root, else ourselves. */
export const SERVER_USER: { uid?: number; gid?: number } = RUNS_AS_ROOT ? NOBODY : {}

/** Whether users other than the owner can reach what lies in `folder`. */
export function othersMayEnter(folder: string): boolean {
  const absolute = path.resolve(folder)
  const enterable = !fs.existsSync(absolute) || (fs.statSync(absolute).mode & 0o001) !== 0
  const parent = path.dirname(absolute)
  return enterable && (parent === absolute || othersMayEnter(parent))
}

/**
 * The folder of the embedded database: inside `home`, or, when root keeps `home` where the server's user may not
 * enter, a folder of its own under /var/lib whose name is noted in `home`.
 *
 * @param home the product's folder; made when it is missing
 */
export function databasePlace(home: string): string {
  fs.mkdirSync(home, { recursive: true })
  if (!RUNS_AS_ROOT || othersMayEnter(home)) return path.join(home, 'database')
  const note = path.join(home, 'database-is-in')
  if (!fs.existsSync(note))
    fs.writeFileSync(note, `/var/lib/gudgeon-${crypto.randomBytes(6).toString('hex')}\n`)
  return fs.readFileSync(note, 'utf8').trim()
}
