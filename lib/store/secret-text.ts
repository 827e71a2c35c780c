const UUID_BYTES = 16

/** What a secret's text says: whose it is, which it is, and the secret that proves it. */
export type SecretText = { organisation: string; id: string; secret: Buffer }

/** The text, in letters that an address may have. It carries the organisation, so that it is looked up there alone. */
export function pack({ organisation, id, secret }: SecretText): string {
  return Buffer.concat([bytesOf(organisation), bytesOf(id), secret]).toString('base64url')
}

/** Reads such a text with a secret of so many bytes; null where it cannot be one. */
export function unpack(text: string, secretBytes: number): SecretText | null {
  const bytes = Buffer.from(text, 'base64url')
  const parts = {
    organisation: uuidOf(bytes.subarray(0, UUID_BYTES)),
    id: uuidOf(bytes.subarray(UUID_BYTES, 2 * UUID_BYTES)),
    secret: bytes.subarray(2 * UUID_BYTES),
  }
  const whole = bytes.length === 2 * UUID_BYTES + secretBytes
  return whole && pack(parts) === text ? parts : null
}

const bytesOf = (uuid: string) => Buffer.from(uuid.replaceAll('-', ''), 'hex')
const uuidOf = (bytes: Buffer) => bytes.toString('hex').replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-')
