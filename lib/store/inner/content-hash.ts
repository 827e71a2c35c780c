import crypto from 'node:crypto'

/**
 * What makes two records the same: SHA-256 of their parsed columns, whatever their order, without the line of the
 * file that they came from. In hexadecimal.
 */
export function contentHash(record: object): string {
  const { line: _, ...columns } = record as Record<string, unknown>
  return crypto.createHash('sha256').update(JSON.stringify(columns, sortKeys)).digest('hex')
}

function sortKeys(_: string, value: unknown): unknown {
  if (value === null || typeof value !== 'object' || Array.isArray(value)) return value
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
}
