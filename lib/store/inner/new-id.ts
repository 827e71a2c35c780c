import crypto from 'node:crypto'

/** A new UUID of version 7 (RFC 9562 §5.7): 48 bits of milliseconds, then chance, so that ids grow with time. */
export function newId(now: Date): string {
  const time = now.getTime().toString(16).padStart(12, '0')
  const chance = crypto.randomUUID().slice(15) // what follows the version, with the variant in its place
  return `${time.slice(0, 8)}-${time.slice(8)}-7${chance}`
}
