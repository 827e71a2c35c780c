import fc from 'fast-check'
import { expect, test } from 'vitest'
import { TABLE_KINDS, type TableKind } from '@/lib/intake/tables'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { fuzzed } from '../runs'
import { ask, machine, rowsInStore } from './machine'

const { database, organisation } = await machine()
const { id, tokens } = await organisation('any file')
const { planner: token } = tokens
await ask('PUT', '/api/v1/library', { token, json: EXAMPLE_LIBRARY })

/** @param by each token has a limit of its own */
const post = (kind: TableKind, body: Uint8Array<ArrayBuffer>, by = token) =>
  ask('POST', `/api/v1/${kind}`, { token: by, body, headers: { 'Content-Type': 'text/csv' } })

const stored = () => rowsInStore(database, id)

const HEADERS: Record<TableKind, string> = {
  vehicles: 'unit,family,site',
  readings: 'unit,read_on,odometer_km',
  codes: 'unit,seen_on,code',
  checks: 'unit,checked_on,kind',
  repairs: 'unit,done_on,weak_point',
  changes: 'unit,on,kind',
}
const cell = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.constantFrom('V1', 'V2', '2026-02-01', '7', 'P0301', 'scan', 'plover-22', 'owner'),
  },
  {
    weight: 2,
    arbitrary: fc.constantFrom('', '"', '""', '"a\nb"', '=1+1', '\t', ';', 'ä', '\u0000', '1e999', '-1'),
  },
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 12 }) },
)
const line = fc.array(cell, { maxLength: 5 }).map((cells) => cells.join(','))
const header = (kind: TableKind) =>
  fc.oneof({ weight: 8, arbitrary: fc.constant(HEADERS[kind]) }, { weight: 1, arbitrary: line })
/** Cut off, or with bytes in it that nobody wrote. */
const damage = fc.option(
  fc.record({ at: fc.nat(), bytes: fc.uint8Array({ maxLength: 4 }), cutOff: fc.boolean() }),
  { freq: 3 },
)
const file = fc.constantFrom(...TABLE_KINDS).chain((kind) =>
  fc.record({
    kind: fc.constant(kind),
    lines: fc.tuple(header(kind), fc.array(line, { maxLength: 6 })).map(([head, rows]) => [head, ...rows]),
    end: fc.constantFrom('\n', '\r\n', '\r'),
    damage,
  }),
)
type File = typeof file extends fc.Arbitrary<infer Value> ? Value : never

function bytesOf({ lines, end, damage }: File): Uint8Array<ArrayBuffer> {
  const bytes = Buffer.from(lines.join(end))
  if (damage === null) return Uint8Array.from(bytes)
  const at = damage.at % (bytes.length + 1)
  const rest = damage.cutOff ? Buffer.alloc(0) : bytes.subarray(at)
  return Uint8Array.from(Buffer.concat([bytes.subarray(0, at), damage.bytes, rest]))
}

test('any file is answered, never by a fault, and stored just as far as the answer says', async () => {
  await fc.assert(
    fc.asyncProperty(file, async (given) => {
      const bytes = bytesOf(given)
      const before = await stored()
      const answer = await post(given.kind, bytes)
      const added = (await stored()) - before
      expect([200, 422], answer.text).toContain(answer.status)
      const { accepted = 0, rejected = [] } = answer.json() as { accepted?: number; rejected?: unknown[] }
      expect(added).toBeGreaterThanOrEqual(0)
      expect(added).toBeLessThanOrEqual(accepted)
      if (answer.status === 422) expect(added).toBe(0)
      const again = await post(given.kind, bytes, tokens.owner)
      expect(again.status).toBe(answer.status)
      if (again.status === 200) expect(again.json()).toMatchObject({ rejected })
      expect(await stored()).toBe(before + added)
    }),
    { numRuns: fuzzed(60) },
  )
}, 7_200_000)

test('a megabyte in one cell is one rejected row, and the others go in', async () => {
  const rows = [
    'unit,family,site',
    'M1,plover-22,north',
    `M2,plover-22,${'x'.repeat(1_000_000)}`,
    'M3,plover-22,',
  ]
  const { status, json } = await post('vehicles', Uint8Array.from(Buffer.from(rows.join('\n'))))
  expect([status, json().accepted]).toEqual([200, 2])
  expect(json().rejected).toEqual([expect.objectContaining({ index: 1, column: 'site' })])
})
