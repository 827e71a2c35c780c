import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { causeOf } from '@/lib/intake/causes'
import { groupRejected, rowsOfGroup, rowsWaitingFor, rowsWithoutVehicle } from '@/lib/intake/group-rejected'
import { mendFile } from '@/lib/intake/mend-file'
import { editsBy } from '@/lib/intake/mend-rows'
import { readTables } from '@/lib/intake/read-tables'
import type { GivenTable, TableRead } from '@/lib/intake/table-read'
import { exampleLibrary } from '../records/example-library'
import { TODAY } from './folder'

const VEHICLES = 'unit,family,variant\nV1,plover-22,early\nV2,plover-22,\n'
const table = (kind: GivenTable['kind'], text: string | Uint8Array) => ({
  name: `${kind}.csv`,
  kind,
  bytes: typeof text === 'string' ? Buffer.from(text) : text,
})
const read = (...tables: GivenTable[]): TableRead[] =>
  readTables(tables, { library: exampleLibrary(), today: TODAY })
const groups = (reads: TableRead[]) =>
  groupRejected(reads).map(({ cause, value, rows, waiting }) => [cause, value, rows, waiting])

const readings = (...rows: string[]) => table('readings', `unit,read_on,odometer_km\n${rows.join('\n')}\n`)

describe('rejected rows are grouped by what mends them', () => {
  test('rows of a vehicle that was itself refused wait for it', () => {
    const reads = read(
      table('vehicles', `${VEHICLES}V3,plover-22,no-such\n`),
      readings('V3,2026-01-01,1', 'V3,2026-01-02,2', 'V1,2026-01-03,3'),
    )
    expect(groups(reads)).toEqual([['word', 'no-such', 1, 2]])
  })

  test('four thousand rows of unknown vehicles wait for the one file of vehicles that failed', () => {
    const rows = Array.from({ length: 4000 }, (_, i) => `V${i},2026-01-01,1`)
    const reads = read(table('vehicles', 'number,engine\n1,plover\n'), readings(...rows))
    expect(groups(reads)).toEqual([['file', null, 1, 4000]])
  })

  test('an unknown vehicle is one cause in every file; very many are one together', () => {
    const codes = table('codes', 'unit,seen_on,code\nX9,2026-01-01,P0301\n')
    expect(groups(read(table('vehicles', VEHICLES), readings('X9,2026-01-01,1'), codes))).toEqual([
      ['unit', 'X9', 2, 0],
    ])
    const many = Array.from({ length: 30 }, (_, i) => `Q-${i}${i},2026-01-01,1`)
    expect(groups(read(table('vehicles', VEHICLES), readings(...many)))).toEqual([['unit', null, 30, 0]])
  })

  test('what other rows wait for comes first, however many rows have faults of their own', () => {
    const reads = read(
      table('vehicles', `${VEHICLES}V3,plover-22,no-such\n`),
      readings('V3,2026-01-01,1', ...Array.from({ length: 50 }, (_, i) => `V1,${i + 1}.1.2026,1`)),
    )
    expect(groups(reads)).toEqual([
      ['word', 'no-such', 1, 1],
      ['date', null, 50, 0],
    ])
  })

  test('a folder whose vehicles are refused one by one, each for a word of its own, has one cause', () => {
    const plates = Array.from({ length: 300 }, (_, i) => `N${i},plover-22,PL ${i} AT`)
    const rows = Array.from({ length: 4000 }, (_, i) => `N${i % 300},2026-01-01,${i}`)
    const codes = Array.from({ length: 12 }, (_, i) => `N${i},2026-01-01,P0301`)
    const reads = read(
      table('vehicles', `${VEHICLES}${plates.join('\n')}\n`),
      readings('V1,2026-01-01,1', 'V11,2026-01-02,2', ...rows),
      table('codes', `unit,seen_on,code\n${codes.join('\n')}\n`),
    )
    const [root, slip, ...others] = groupRejected(reads)
    expect(root).toMatchObject({
      ...{
        cause: 'word',
        value: null,
        column: 'variant',
        rows: 300,
        waiting: 4012,
        awaited: 300,
        mend: null,
      },
      files: [['vehicles.csv', 300]],
      waitingIn: [
        ['readings.csv', 4000],
        ['codes.csv', 12],
      ],
    })
    // A slip among them is still one, with what it was meant to be.
    expect(slip).toMatchObject({ value: 'V11', rows: 1, mend: { how: 'replace', from: 'V11', to: 'V1' } })
    expect(others).toEqual([])
    expect(rowsOfGroup(reads, root!.key)).toHaveLength(300)
    expect(rowsWithoutVehicle(reads, root!.key)).toHaveLength(4012)
    const [first] = rowsOfGroup(reads, root!.key)
    expect(rowsWaitingFor(reads, [first!]).map(({ row }) => row.slice(0, 3))).toEqual(Array(15).fill('N0,'))
  })

  test('each row is in one group, or waits for one', () => {
    const cell = fc.constantFrom(
      'V1',
      'V9',
      '',
      '2026-01-31',
      '31.1.2026',
      '2099-01-01',
      '5',
      '-5',
      '1e9',
      'x,y,z,z',
    )
    const row = fc.tuple(cell, cell, cell).map((cells) => cells.join(','))
    const vehicle = fc.constantFrom('V1,plover-22,', 'V9,plover-22,none', 'V1,plover-22,early', ',,')
    fc.assert(
      fc.property(fc.array(vehicle, { maxLength: 5 }), fc.array(row, { maxLength: 40 }), (vehicles, rows) => {
        const reads = read(
          table('vehicles', `unit,family,variant\n${vehicles.join('\n')}\n`),
          readings(...rows),
        )
        const found = groupRejected(reads)
        const rejected = reads.reduce((sum, each) => sum + each.rejected.length, 0)
        expect(found.reduce((sum, group) => sum + group.rows + group.waiting, 0)).toBe(rejected)
        for (const { key, rows } of found) expect(rowsOfGroup(reads, key)).toHaveLength(rows)
      }),
    )
  })
})

test('every reason that a reader gives has a cause', () => {
  const reads = read(
    table('vehicles', `${VEHICLES}V1,plover-22,\nV5,plover-22,none\n${'n'.repeat(201)},plover-22,\n`),
    readings(
      'V9,2026-01-01,1',
      'V1,31.1.2026,1',
      'V1,1850-01-01,1',
      'V1,2099-01-01,1',
      'V1,2026-01-01,many',
      'V1,2026-01-01,-1',
      'V1,2026-01-01,1e9',
      'V1,2026-01-01,',
      'V1,2026-01-01,1,2,3',
      'V1,"2026-01-01,1',
      'V1,2026-01-01,\u0000',
    ),
    table('codes', 'unit,seen_on,code\nV1,2026-01-01,hello\n'),
    table(
      'repairs',
      'unit,done_on,weak_point,positions,action\nV1,2026-01-01,injector,9,renew\nV1,2026-01-01,injector,x,renew\n',
    ),
    table('checks', 'unit,checked_on,kind,seen\nV1,2026-01-01,scan,@@\n'),
  )
  const causes = reads.flatMap(({ rejected }) => rejected.map(({ reason }) => causeOf(reason)))
  expect(causes).toEqual([
    ...['second-row', 'word', 'too-long'],
    ...['unit', 'date', 'date', 'future', 'number', 'number', 'number', 'blank', 'cells', 'quote', 'bytes'],
    ...['code', 'sign', 'position', 'position'],
  ])
  expect(causeOf('something that no reader says')).toBe('other')
})

describe('a group that one change mends goes in with it', () => {
  const mended = (given: GivenTable & { bytes: Uint8Array }) => {
    const vehicles = table('vehicles', VEHICLES)
    const before = read(vehicles, given)
    const [group] = groupRejected(before)
    const { heading } = before[1]!
    const edits = editsBy(rowsOfGroup(before, group!.key), heading!, group!.mend!)
    const bytes = mendFile(given, edits, 'all')!
    return { mend: group!.mend, after: read(vehicles, { ...given, bytes })[1]! }
  }

  test.each<[string, ReturnType<typeof table>, unknown, number]>([
    [
      'dates with the day first',
      readings('V1,31.01.2026,1', 'V1,1.2.2026,2', 'V2,2026-02-03,3'),
      { how: 'date', order: 'day-month-year' },
      3,
    ],
    [
      'dates with the month first',
      readings('V1,1/31/2026,1', 'V1,02/01/2026,2'),
      { how: 'date', order: 'month-day-year' },
      2,
    ],
    [
      'decimal commas',
      readings('V1,2026-01-01,"84.210,5"', 'V1,2026-01-02,"84,7"'),
      { how: 'number', decimal: ',' },
      2,
    ],
    ['spaces among thousands', readings('V1,2026-01-01,84 210'), { how: 'number', decimal: ',' }, 1],
    [
      'a slip in a vehicle’s number',
      table('readings', 'unit,read_on,odometer_km\nV11,2026-01-01,1\n'),
      { how: 'replace', from: 'V11', to: 'V1' },
      1,
    ],
    [
      'a slip in one name of a list',
      table('checks', 'unit,checked_on,kind,seen\nV1,2026-01-01,scan,lamp-on misfir@2\n'),
      { how: 'replace', from: 'misfir', to: 'misfire' },
      1,
    ],
  ])('%s', (_, given, mend, rows) => {
    const outcome = mended(given)
    expect(outcome.mend).toEqual(mend)
    expect(outcome.after.rejected).toEqual([])
    expect(outcome.after.records[given.kind]).toHaveLength(rows)
  })

  test('but nothing is proposed where the rows do not say', () => {
    const mendOf = (...rows: string[]) =>
      groupRejected(read(table('vehicles', VEHICLES), readings(...rows)))[0]?.mend
    expect(mendOf('V1,1.2.2026,1')).toBeNull() // the first of February, or the second of January
    expect(mendOf('V1,31.1.2026,1', 'V1,1.31.2026,1')).toBeNull()
    expect(mendOf('V1,2026-01-01,"84,210"')).toBeNull() // eighty-four thousand, or eighty-four and a bit
  })
})

describe('a mended file', () => {
  const bytes = Buffer.from(
    'Title;x\nunit;read_on;odometer_km;Driver\nV1;2026-01-01;1;"A ""B""\nC"\nV9;2026-01-02;2;\n',
  )
  const edits = new Map([[5, ['V2', '2026-01-02', '2', '']]])
  test('keeps every other row, and every row on its line', () => {
    const whole = mendFile({ bytes, kind: 'readings' }, edits, 'all')!
    const after = read(table('vehicles', VEHICLES), table('readings', whole))[1]!
    expect(after.rejected).toEqual([])
    expect(after.records.readings.map(({ unit, line, notes }) => [unit, line, notes.Driver])).toEqual([
      ['V1', 3, 'A "B"\nC'],
      ['V2', 5, undefined],
    ])
  })
  test('or holds the mended rows alone', () =>
    expect(Buffer.from(mendFile({ bytes, kind: 'readings' }, edits, 'mended')!).toString()).toBe(
      'unit,read_on,odometer_km,Driver\r\nV2,2026-01-02,2,\r\n',
    ))
  test('is not made where lines that are no text would slip in', () => {
    const odd = Buffer.concat([
      Buffer.from('unit,read_on,odometer_km\nV1,2026-01-01,'),
      Buffer.from([0xff, 10]),
    ])
    expect(mendFile({ bytes: odd, kind: 'readings' }, new Map(), 'all')).toBeNull()
  })
})
