import crypto from 'node:crypto'

/** The nearest address of the network that a proxy noted, or the web server itself. */
export const clientAddress = (headers: Headers): string =>
  headers.get('x-forwarded-for')?.split(',').at(-1)?.trim() ?? ''

/** Keys under which attempts are counted are hashed: a table of attempts needs to know nobody's address. */
export const hashed = (text: string): string => crypto.createHash('sha256').update(text).digest('base64url')

/** Where a request comes from, as attempts are counted by it. */
export const hashedAddress = (headers: Headers): string => hashed(clientAddress(headers))
