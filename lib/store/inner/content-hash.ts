import crypto from 'node:crypto'

/**
 * What makes two records the same: SHA-256 of their parsed columns, whatever their order, without the line of the
 * file that they came from. In hexadecimal.
 */
export function contentHash(record: object): string {
  const { line: _, ...columns } = record as Record<string, unknown>
  return crypto
    .createHash('sha256')
    .update(JSON.stringify(inOrder(columns)))
    .digest('hex')
}

/** The same with the keys of every object in order. (`JSON.stringify` could be told so key by key, at twice the time.) */
function inOrder(value: unknown): unknown {
  if (value === null || typeof value !== 'object') return value
  if (Array.isArray(value)) return value.map(inOrder)
  const object = value as Record<string, unknown>
  return Object.fromEntries(
    Object.keys(object)
      .sort()
      .map((key) => [key, inOrder(object[key])]),
  )
}
