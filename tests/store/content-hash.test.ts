import crypto from 'node:crypto'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { contentHash } from '@/lib/store/inner/content-hash'
import { runs } from '../runs'
import { EXAMPLE } from './example-records'

/** As it was first written, and stands in databases: every key in order, by what `JSON.stringify` asks of each value. */
function asFirstWritten(record: object): string {
  const { line: _, ...columns } = record as Record<string, unknown>
  const inOrder = (_: string, value: unknown): unknown =>
    value === null || typeof value !== 'object' || Array.isArray(value)
      ? value
      : Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
  return crypto.createHash('sha256').update(JSON.stringify(columns, inOrder)).digest('hex')
}

test('a record has the hash that it has always had', () => {
  const key = fc.oneof(fc.string(), fc.constantFrom('line', '10', '9', '__proto__', 'ä'))
  const value = fc.jsonValue({ maxDepth: 3 })
  fc.assert(
    fc.property(fc.dictionary(key, value), (record) => {
      expect(contentHash(record)).toBe(asFirstWritten(record))
    }),
    { numRuns: runs(500) },
  )
  const rows = [EXAMPLE.readings, EXAMPLE.codes, EXAMPLE.checks, EXAMPLE.repairs, EXAMPLE.changes].flat()
  expect(rows.map(contentHash)).toEqual(rows.map(asFirstWritten))
  const [first] = EXAMPLE.readings
  expect(contentHash({ ...first, line: 99 })).toBe(contentHash(first!))
})
