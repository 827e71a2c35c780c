import crypto from 'node:crypto'

const PREFIX = 'gudgeon_'
const UUID_BYTES = 16
const SECRET_BYTES = 32

/** What a token's text says: whose it is, which it is, and the secret that proves it. */
export type TokenText = { organisation: string; id: string; secret: Buffer }

/** A fresh secret; only its hash is ever kept. */
export const newTokenSecret = (): Buffer => crypto.randomBytes(SECRET_BYTES)

/** SHA-256: the secret is chance from end to end, so that nothing slower is needed. */
export const hashOfSecret = (secret: Buffer): Buffer => crypto.createHash('sha256').update(secret).digest()

/** The text to hand out. It carries the organisation, so that a token is looked up among that one's alone. */
export function writeTokenText({ organisation, id, secret }: TokenText): string {
  return PREFIX + Buffer.concat([bytesOf(organisation), bytesOf(id), secret]).toString('base64url')
}

/** Reads a token's text; null where it cannot be one. */
export function parseTokenText(text: string): TokenText | null {
  if (!text.startsWith(PREFIX)) return null
  const bytes = Buffer.from(text.slice(PREFIX.length), 'base64url')
  const parts = {
    organisation: uuidOf(bytes.subarray(0, UUID_BYTES)),
    id: uuidOf(bytes.subarray(UUID_BYTES, 2 * UUID_BYTES)),
    secret: bytes.subarray(2 * UUID_BYTES),
  }
  const whole = bytes.length === 2 * UUID_BYTES + SECRET_BYTES
  return whole && writeTokenText(parts) === text ? parts : null
}

const bytesOf = (uuid: string) => Buffer.from(uuid.replaceAll('-', ''), 'hex')
const uuidOf = (bytes: Buffer) => bytes.toString('hex').replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-')
