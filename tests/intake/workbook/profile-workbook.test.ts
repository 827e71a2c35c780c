import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { findHeading } from '@/lib/intake/workbook/find-heading'
import { lettersOf } from '@/lib/intake/workbook/inner/column-profile'
import { type Shape, shapeOf } from '@/lib/intake/workbook/inner/text-shapes'
import { MOST_VALUES, type SheetProfile } from '@/lib/intake/workbook/profile'
import { type HeaderRows, profileWorkbook } from '@/lib/intake/workbook/profile-workbook'
import type { Sheet } from '@/lib/intake/workbook/sheets'
import { fleetSheet } from './messy-workbooks'
import { cellsOf } from './workbooks'

type Row = Parameters<typeof cellsOf>

const NOTHING = { merged: 0, coloured: 0, formulasWithoutResult: 0, hiddenRows: 0, hiddenColumns: 0 }

const sheetOf = (...rows: Row[]): Sheet => ({
  name: 'Jobs',
  isHidden: false,
  rows: rows.map((row) => cellsOf(...row)),
  noticed: NOTHING,
})

function profileOf(rows: Row[], headerRows?: HeaderRows): SheetProfile {
  const [profile] = profileWorkbook({ sheets: [sheetOf(...rows)] }, headerRows).sheets
  if (!profile) throw new Error('no sheet')
  return profile
}

const columnOf = (profile: SheetProfile, key: string) => {
  const column = profile.columns.find((each) => each.key === key)
  if (!column) throw new Error(`no column ${key}`)
  return column
}

const day = (iso: string) => ({ iso })

const JOBS: Row[] = [
  ['V01', day('2025-03-04'), 84210, 'Thermostat renewed', 120.5],
  ['V02', day('2025-03-05'), 12033, 'Oil and filter', 80],
  ['V03', day('2025-04-01'), 154999, 'Injector 3 renewed, leaking', 410.25],
  ['V01', day('2025-04-09'), 85120, 'Looked at, nothing found', null],
]
const NAMES: Row = ['Unit', 'Date', 'Odometer', 'Work done', 'Cost']

describe('the heading', () => {
  const word = fc
    .string({ unit: fc.constantFrom(...'abcdefgäö '), minLength: 2, maxLength: 14 })
    .map((text) => `t${text}`)
  const title = fc.oneof(
    fc.constant<Row>([]),
    word.map((text): Row => [text]),
    word.map((text): Row => [null, `${text}, 12 March 2025`]),
    fc.tuple(word, word).map(([one, two]): Row => [`${one}:`, two]),
    fc.constant<Row>(['Printed', day('2025-05-01')]),
  )
  const column = fc.constantFrom('unit', 'day', 'number', 'words', 'written day')
  const table = fc.record({
    titles: fc.array(title, { maxLength: 8 }),
    columns: fc
      .array(column, { minLength: 5, maxLength: 12 })
      .filter((kinds) => kinds.some((kind) => kind !== 'words')),
    rows: fc.integer({ min: 3, max: 30 }),
    seed: fc.infiniteStream(fc.nat({ max: 99_999 })),
  })

  test('is found under titles, notes and blank rows', () =>
    fc.assert(
      fc.property(table, ({ titles, columns, rows, seed }) => {
        const next = () => Number(seed.next().value)
        const made: Record<string, () => Row[number]> = {
          unit: () => `V${next() % 50}`,
          day: () => day(`2025-0${1 + (next() % 9)}-1${next() % 10}`),
          number: () => next(),
          words: () => ['oil and filter', 'thermostat renewed', 'looked at', null][next() % 4] ?? null,
          'written day': () => `1${next() % 10}.0${1 + (next() % 9)}.2025`,
        }
        const heading = columns.map((kind, place) => `${kind} ${lettersOf(place)}`)
        const data = Array.from({ length: rows }, () => columns.map((kind) => made[kind]?.() ?? null))
        expect(findHeading(sheetOf(...titles, heading, ...data).rows)).toBe(titles.length + 1)
      }),
      { numRuns: 500 },
    ))

  test('is found under a name and its value where most columns are nearly empty', () => {
    const rows: Row[] = [
      ['Printed by:', 'office'],
      ['Unit', 'Trailer', 'Work', 'Remark', 'Site'],
      ['V01', 'V41', null, null, null],
      ['V02', 'V42', 'oil and filter', null, null],
      ['V03', 'V43', null, null, 'north'],
      ['V04', 'V44', null, 'looked at', null],
      ['V05', 'V45', null, null, null],
    ]
    expect(profileOf(rows).headerRow).toBe(2)
  })

  test('is none where the first row is data', () => {
    expect(profileOf(JOBS).headerRow).toBeNull()
    expect(
      profileOf([
        ['V01', 'Thermostat renewed'],
        ['V02', 'Oil and filter'],
        ['V03', 'Injector'],
      ]).headerRow,
    ).toBeNull()
    const sites: Row[] = ['north', 'south', 'north', 'east', 'south'].map((site) => [site, 'oil and filter'])
    expect(profileOf(sites).headerRow).toBeNull()
    expect(profileOf(JOBS).columns.map(({ key, filled }) => [key, filled])).toEqual([
      ['column a', 4],
      ['column b', 4],
      ['column c', 4],
      ['column d', 4],
      ['column e', 3],
    ])
  })

  test('names columns of words alone, too', () => {
    const rows: Row[] = [
      ['Unit', 'Site', 'Customer'],
      ['one', 'north', 'somebody'],
      ['two', 'south', 'somebody else'],
      ['three', 'north', 'nobody'],
    ]
    expect(profileOf(rows).headerRow).toBe(1)
  })

  test('is the one that somebody has said, or none', () => {
    const rows: Row[] = [['Title', 'of it'], NAMES, ...JOBS]
    expect(profileOf(rows).headerRow).toBe(2)
    expect(profileOf(rows, { Jobs: 1 }).headerRow).toBe(1)
    expect(profileOf(rows, { Jobs: 1 }).columns[1]?.header).toBe('of it')
    expect(profileOf(rows, { Jobs: null }).headerRow).toBeNull()
    expect(profileOf(rows, { Others: null }).headerRow).toBe(2)
  })

  test('is found where groups stand above it and units below', () => {
    const rows: Row[] = [
      ['Vehicle', null, null, 'Workshop', null],
      NAMES,
      [null, null, 'mi', null, 'EUR'],
      ...JOBS,
    ]
    const profile = profileOf(rows)
    expect([profile.headerRow, profile.repeatedHeaders]).toEqual([2, [3]])
    expect(columnOf(profile, 'odometer (mi)')).toMatchObject({
      header: 'Odometer (mi)',
      filled: 4,
      numbers: 4,
      texts: 0,
    })
    expect(columnOf(profile, 'unit').header).toBe('Unit')
    const told: Row[] = [NAMES, ['V09', null, 'unknown', 'oil', 'none'], ...JOBS]
    expect(profileOf(told).repeatedHeaders).toEqual([])
    const forms: Row[] = [NAMES, [null, 'dd.mm.yyyy', '(km)', null, '€'], ...JOBS]
    expect(profileOf(forms).repeatedHeaders).toEqual([2])
  })

  test('alone in a sheet is a heading; a lone figure is none', () => {
    expect(profileOf([[], NAMES]).headerRow).toBe(2)
    expect(profileOf([[12]]).headerRow).toBeNull()
    expect(profileOf([])).toMatchObject({ headerRow: null, rows: 0, columns: [] })
  })
})

describe('rows that tell of nothing of their own', () => {
  test('are the heading once more', () => {
    const rows: Row[] = [
      NAMES,
      ...JOBS.slice(0, 2),
      [],
      ['unit', 'DATE', 'Odometer', 'Work done'],
      ...JOBS.slice(2),
    ]
    const profile = profileOf(rows)
    expect([profile.repeatedHeaders, profile.totals, columnOf(profile, 'unit').filled]).toEqual([[5], [], 4])
  })

  test('are sums, by their name or by what they are the sum of', () => {
    const named: Row[] = ['Total', 'Gesamtsumme:', 'Sub-total', 'Summe', 'Total 2025'].map((name) => [
      name,
      null,
      null,
      null,
      12.5,
    ])
    for (const total of named) expect(profileOf([NAMES, ...JOBS, total]).totals).toEqual([6])
    const inLast: Row = [null, null, null, 'Total', 610.75]
    expect(profileOf([NAMES, ...JOBS, inLast]).totals).toEqual([6])
    expect(profileOf([NAMES, ...JOBS, [null, null, null, null, 610.75]]).totals).toEqual([6])
    const twice: Row[] = [...JOBS, [null, null, null, null, 610.75]]
    expect(profileOf([NAMES, ...twice, ...twice]).totals).toEqual([6, 11])
  })

  test('are not jobs whose vehicle stands in a cell above, nor those that speak of totals', () => {
    expect(profileOf([NAMES, ...JOBS, [null, null, 85200, null, 17]]).totals).toEqual([])
    expect(profileOf([NAMES, ...JOBS, ['Total loss', day('2025-05-01'), 85200, 'sold', 17]]).totals).toEqual(
      [],
    )
    expect(profileOf([NAMES, ...JOBS, ['Total', null, null, 'a van of that name', null]]).totals).toEqual([])
    expect(profileOf([NAMES, ...JOBS, ['Total', day('2025-05-01'), 85200, 'filled up', 17]]).totals).toEqual(
      [],
    )
    expect(profileOf([NAMES, ...JOBS, ['Sumatra', day('2025-05-01'), 85200, 'oil', 17]]).totals).toEqual([])
  })

  test('are sums of a table of numbers alone', () => {
    const rows: Row[] = [
      ['Unit', 'Jobs', 'Cost'],
      ['V01', 3, 300],
      ['V02', 1, 20.5],
      ['Total', 4, 320.5],
    ]
    expect(profileOf(rows).totals).toEqual([4])
  })

  test('leave the heading where it is when notes stand below', () => {
    const notes: Row[] = [[], ['All prices without tax'], ['Printed by', 'somebody']]
    const profile = profileOf([['Jobs'], [], NAMES, ...JOBS, ...notes])
    expect([profile.headerRow, profile.rows, columnOf(profile, 'cost').filled]).toEqual([3, 8, 3])
  })
})

describe('a column', () => {
  const cell = fc.oneof(
    fc.constantFrom('oil', 'thermostat', 'a', 'b', 'c'),
    fc.integer({ min: 0, max: 5 }),
    fc.constantFrom(day('2025-01-02'), day('2025-02-03')),
    fc.constant(null),
  )

  test('is counted as it is', () =>
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell), { minLength: 1, maxLength: 40 }), (rows) => {
        const { columns } = profileOf([['One', 'Two'], ...rows], { Jobs: 1 })
        const sheet = sheetOf(...rows)
        // Rows of sums are another test's: here no row is one, for no column is of numbers alone beside one of words.
        fc.pre(profileOf([['One', 'Two'], ...rows], { Jobs: 1 }).totals.length === 0)
        columns.forEach((column, index) => {
          const cells = sheet.rows.flatMap((row) => row[index] ?? [])
          const texts = cells.map(({ text }) => text)
          const different = [...new Set(texts)]
          expect(column).toMatchObject({
            index,
            filled: cells.length,
            dates: cells.filter(({ iso }) => iso !== undefined).length,
            numbers: cells.filter(({ iso, number }) => iso === undefined && number !== undefined).length,
            texts: cells.filter(({ number }) => number === undefined).length,
            distinct: different.length,
          })
          expect(column.samples.map(({ text }) => text)).toEqual(different.slice(0, 5))
          expect(Object.fromEntries(column.values.map(({ text, count }) => [text, count]))).toEqual(
            Object.fromEntries(different.map((text) => [text, texts.filter((each) => each === text).length])),
          )
          const counts = column.values.map(({ count }) => count)
          expect(counts).toEqual(counts.toSorted((a, b) => b - a))
        })
      }),
    ))

  test('has a key of its own, the same next week', () => {
    const rows: Row[] = [
      ['Cost', ' Cost', null, 'cost (2)', 'COST', 'Work\nDone'],
      [1, 2, 3, 4, 5, 6],
      [7, 8, 9, 1, 2, 3],
    ]
    expect(profileOf(rows, { Jobs: 1 }).columns.map(({ key, header }) => [key, header])).toEqual([
      ['cost', 'Cost'],
      ['cost (2)', ' Cost'],
      ['column c', 'column C'],
      ['cost (2) (2)', 'cost (2)'],
      ['cost (3)', 'COST'],
      ['work done', 'Work\nDone'],
    ])
    expect([0, 25, 26, 701, 702, 16_383].map(lettersOf)).toEqual(['A', 'Z', 'AA', 'ZZ', 'AAA', 'XFD'])
  })

  test('keeps the commonest of its values where there are very many', () => {
    const rows = Array.from({ length: MOST_VALUES + 10 }, (_, row): Row => [`note ${row}`])
    const { columns } = profileOf([['Notes'], ...rows, ['note 5007']], { Jobs: 1 })
    expect(columns[0]).toMatchObject({ distinct: MOST_VALUES + 10, filled: MOST_VALUES + 11 })
    expect([columns[0]?.values.length, columns[0]?.values[0]]).toEqual([
      MOST_VALUES,
      { text: 'note 5007', count: 2 },
    ])
  })

  test('keeps fewer of them where they are whole letters', () => {
    const rows = Array.from({ length: 100 }, (_, row): Row => [`${row}${'a letter '.repeat(3500)}`])
    const { columns } = profileOf([['Letters'], ...rows], { Jobs: 1 })
    expect(columns[0]?.distinct).toBe(100)
    expect(columns[0]?.values.length).toBe(Math.floor(2_000_000 / 31_501))
  })
})

describe('what texts look like', () => {
  const shapes = (texts: Record<string, Shape | null>) => {
    expect(Object.fromEntries(Object.keys(texts).map((text) => [text, shapeOf(text)]))).toEqual(texts)
  }

  test('dates', () =>
    shapes({
      '2025-03-04': 'iso',
      '2025/3/4': 'iso',
      '20250304': 'iso',
      '2025-03-04 07:30': 'iso',
      '2025-03-04T07:30:00Z': 'iso',
      '25.03.2025': 'dayFirst',
      '3/25/25': 'monthFirst',
      '03/04/2025': 'eitherOrder',
      '3-4-25 11:00': 'eitherOrder',
      '32/01/2025': null,
      '13/13/2025': null,
      '2025-13-01': null,
      '03/2025': 'monthOnly',
      '2025-03': 'monthOnly',
      'Mar 2025': 'monthOnly',
      'März 25': 'monthOnly',
      '12 Mar 2025': 'iso',
      '12. März 2025': 'iso',
      'March 12, 2025': 'iso',
    }))

  test('numbers', () =>
    shapes({
      '84.210': 'eitherDecimal',
      '84,210': 'eitherDecimal',
      '84.210 km': 'eitherDecimal',
      '84.210,5': 'commaDecimal',
      '1.234.567': 'commaDecimal',
      '12,5': 'commaDecimal',
      '0,125': 'commaDecimal',
      '€ 12,50': 'commaDecimal',
      '1 234,50 €': 'commaDecimal',
      '84,210.5': 'pointDecimal',
      '1,234,567': 'pointDecimal',
      '12.5': 'pointDecimal',
      '-1,234.50': 'pointDecimal',
      '84210': null,
      '1.23.456,7': null,
    }))

  test('neither', () =>
    shapes({ V01: null, 'oil and filter': null, P0420: null, '': null, 'inj 3 renewed, 2 more': null }))

  test('a day is counted by the orders in which the calendar has one', () => {
    const part = fc.integer({ min: 0, max: 40 })
    fc.assert(
      fc.property(
        part,
        part,
        fc.integer({ min: 1950, max: 2049 }),
        fc.constantFrom('/', '.', '-'),
        (a, b, year, mark) => {
          const lies = (month: number, day: number) => month >= 1 && month <= 12 && day >= 1 && day <= 31
          const [dayFirst, monthFirst] = [lies(b, a), lies(a, b)]
          const expected =
            dayFirst && monthFirst ? 'eitherOrder' : dayFirst ? 'dayFirst' : monthFirst ? 'monthFirst' : null
          expect(shapeOf(`${a}${mark}${b}${mark}${year}`)).toBe(expected)
        },
      ),
    )
  })

  test('a number is counted by the marks that its language writes', () => {
    const number = fc.integer({ min: -99_999_999, max: 99_999_999 }).map((hundredths) => hundredths / 100)
    fc.assert(
      fc.property(number, (value) => {
        const figures = { minimumFractionDigits: 2, maximumFractionDigits: 2 }
        expect(shapeOf(new Intl.NumberFormat('de-DE', figures).format(value))).toBe('commaDecimal')
        expect(shapeOf(new Intl.NumberFormat('en-US', figures).format(value))).toBe('pointDecimal')
      }),
    )
  })
})

describe('a sentence alone in its row', () => {
  const remarksOf = (...rows: Row[]) => {
    const { remarks, remarked } = profileOf([NAMES, ...JOBS, ...rows])
    return { remarks, remarked }
  }

  test('is a remark, with where it stands and what it says', () =>
    expect(
      remarksOf([], ['Colours: yellow is off the road'], [null, null, null, 'see the other sheet']),
    ).toEqual({
      remarks: [7, 8],
      remarked: ['Colours: yellow is off the road', 'see the other sheet'],
    }))

  test('is none where it is a name, a number, a date, or not alone', () =>
    expect(
      remarksOf(
        ['V09'],
        ['Blue van'],
        [null, day('2026-01-01')],
        [null, null, 84],
        ['Kept by the office', day('2026-01-01')],
      ),
    ).toEqual({ remarks: [], remarked: [] }))

  test('is none in a table of two columns, which has no shape to differ from', () => {
    const { remarks } = profileOf([
      ['Unit', 'Work done'],
      ['V01', 'Oil and filter'],
      ['V02', 'Oil and filter'],
      [null, 'and the hose replaced'],
    ])
    expect(remarks).toEqual([])
  })

  test('leaves a sum above it a sum', () => {
    const [sheet] = fleetSheet().sheets
    const rows = [...(sheet?.rows ?? []), cellsOf('Colours: yellow is off the road')]
    const [profile] = profileWorkbook({ sheets: [{ ...sheetOf(), rows }] }).sheets
    expect([profile?.totals, profile?.remarks]).toEqual([[12], [13]])
  })

  test('does not count among what its column holds', () => {
    const { columns } = profileOf([NAMES, ...JOBS, ['Colours: yellow is off the road']])
    expect(columns[0]?.distinct).toBe(3)
  })
})
