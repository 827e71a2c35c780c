import crypto from 'node:crypto'
import { pack, type SecretText, unpack } from '@/lib/store/secret-text'

/** 128 bits of chance: nobody finds a label by trying. */
const SECRET_BYTES = 16

export const newLabelSecret = (): Buffer => crypto.randomBytes(SECRET_BYTES)

/** What stands on a label after `/q/`: whose it is, which it is, and the secret that proves it. */
export const writeLabelKey = (label: SecretText): string => pack(label)

/** Reads it; null where it cannot be one. */
export const parseLabelKey = (text: string): SecretText | null => unpack(text, SECRET_BYTES)
