import crypto from 'node:crypto'
import { pack, type SecretText, unpack } from '@/lib/store/secret-text'

const PREFIX = 'gudgeon_'
const SECRET_BYTES = 32

/** What a token's text says: whose it is, which it is, and the secret that proves it. */
export type TokenText = SecretText

/** A fresh secret; only its hash is ever kept. */
export const newTokenSecret = (): Buffer => crypto.randomBytes(SECRET_BYTES)

/** SHA-256: the secret is chance from end to end, so that nothing slower is needed. */
export const hashOfSecret = (secret: Buffer): Buffer => crypto.createHash('sha256').update(secret).digest()

/** The text to hand out. It carries the organisation, so that a token is looked up among that one's alone. */
export const writeTokenText = (token: TokenText): string => PREFIX + pack(token)

/** Reads a token's text; null where it cannot be one. */
export const parseTokenText = (text: string): TokenText | null =>
  text.startsWith(PREFIX) ? unpack(text.slice(PREFIX.length), SECRET_BYTES) : null
