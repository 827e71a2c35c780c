import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readArchive, writeArchive } from '@/lib/intake/archive'
import { readFiles } from '@/lib/intake/read-files'
import { writeFolder } from '@/lib/intake/write-folder'
import { parseLibrary } from '@/lib/records/library'
import type { PartRow } from '@/lib/records/part-stock'
import type { Records } from '@/lib/records/rows'
import { parseDay } from '@/lib/units/dates'
import { EXAMPLE_LIBRARY, exampleLibrary } from '../records/example-library'
import { EXAMPLE } from '../store/example-records'

const TODAY = parseDay('2026-03-01')!
const NOW = new Date('2026-03-01T12:00:00Z')

/** Nothing is known of the example's engine, so whatever its rows name is taken in. */
const library = exampleLibrary()

/** Records without the lines of the files that they came from. */
function bare(records: Records) {
  const rows = Object.entries(records).map(([kind, list]) => [
    kind,
    Array.isArray(list) ? list.map(({ line: _, ...row }) => row) : list,
  ])
  return Object.fromEntries(rows)
}

function roundTrip(records: Records): Records {
  const { records: again, rejected } = readFiles(writeFolder(records), library, TODAY)
  expect(rejected).toEqual([])
  return again
}

describe('records as a data folder', () => {
  test('taken in again are the same, in the same order, with notes and settings', () => {
    const records = { ...EXAMPLE, repairs: EXAMPLE.repairs.map((row) => ({ ...row })) }
    expect(bare(roundTrip(records))).toEqual(bare(records))
  })

  test('keep every digit of every number and every character of every text', () => {
    // A cell is read without the blanks around it, and a blank one says nothing.
    const text = fc
      .string({ unit: 'grapheme', minLength: 1, maxLength: 30 })
      .map((found) => found.replace(/[\0\r]/g, '').trim())
      .filter((found) => found !== '')
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1e7, noNaN: true }),
        fc.integer({ min: -20_000, max: TODAY }),
        text,
        text,
        (odometerKm, readOn, source, note) => {
          const [first] = EXAMPLE.readings
          const reading = { ...first!, odometerKm: odometerKm + 0, readOn, source, notes: { remark: note } }
          const { readings } = roundTrip({ ...EXAMPLE, readings: [reading] })
          expect(readings).toEqual([{ ...reading, line: 2 }])
        },
      ),
    )
  })
})

const NO_HISTORY = {
  libraries: [],
  provenance: { vehicles: [], readings: [], codes: [], checks: [], repairs: [], changes: [] },
  stopNotices: [],
  intakes: [],
}
const PARTS: PartRow[] = [
  {
    ...{
      part: 'INJ-22',
      onHand: 4,
      onOrder: 2,
      dueOn: 20_600,
      leadDays: 6,
      price: 180.5,
      supplier: 'Reed, "north"',
    },
    notes: { shelf: 'A3' },
  },
  {
    ...{ part: 'GSK-7', onHand: 0, onOrder: 0, dueOn: null, leadDays: null, price: null, supplier: null },
    notes: {},
  },
]
const archiveWith = (library: string | null) =>
  writeArchive(
    { organisation: 'Ours', records: EXAMPLE, parts: PARTS, library, fit: null, history: NO_HISTORY },
    NOW,
  )

describe('an archive', () => {
  const content = JSON.stringify(EXAMPLE_LIBRARY)
  const archive = archiveWith(content)

  test('holds records, settings and the library as its author wrote it', () => {
    const read = readArchive(archive, NOW)
    if ('whole' in read) throw new Error('There are rows where none were written')
    expect(bare(read.records)).toEqual(bare(EXAMPLE))
    expect(read.parts).toEqual(PARTS)
    expect(read.library).toBe(content)
    expect(parseLibrary(read.library).ok).toBe(true)
  })

  test.each([...archive.keys()])('in which %s was changed or lost is refused by name', (name) => {
    const bytes = Buffer.from(archive.get(name)!)
    bytes.writeUInt8(bytes[20]! ^ 1, 20)
    const changed = () => readArchive(new Map([...archive, [name, bytes]]), NOW)
    expect(changed).toThrow(/archive is damaged/)
    expect(changed).toThrow(name === 'archive.json' ? /archive/ : name)
    const without = new Map([...archive].filter(([each]) => each !== name))
    const lost = () => readArchive(without, NOW)
    if (name === 'archive.json') expect(lost).not.toThrow()
    else expect(lost).toThrow(`${name} is missing`)
  })

  test('without a library is refused, and one with a wrong library says where', () => {
    expect(() => readArchive(archiveWith(null), NOW)).toThrow(/no library\.json/)
    const wrong = JSON.stringify({ ...EXAMPLE_LIBRARY, slotDays: -1 })
    expect(() => readArchive(archiveWith(wrong), NOW)).toThrow(/slotDays: found -1/)
  })
})
