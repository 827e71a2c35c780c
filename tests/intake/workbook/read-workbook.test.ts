import type { BookType } from '@e965/xlsx'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { csvLine } from '@/lib/intake/csv-line'
import { dayOfSerial, showsDay } from '@/lib/intake/workbook/inner/serial-day'
import type { SheetCell } from '@/lib/intake/workbook/sheets'
import {
  bookOf,
  bytesOf,
  bytesOfBook,
  type Cell,
  cellsOf,
  dateCell,
  firstSheet,
  readWell,
  sheetAt,
  textBytes,
  textsOf,
} from './workbooks'

const FORMATS: BookType[] = ['xlsx', 'xlsm', 'xlsb', 'biff8', 'ods']

const letters = fc.string({ unit: fc.constantFrom(...'aZ09 äß€,;"\'<&>😀-_./=') })
const written = fc.oneof(
  letters,
  fc.integer({ min: -1_000_000_000, max: 1_000_000_000 }),
  fc.integer({ min: -99_999, max: 99_999 }).map((hundredths) => hundredths / 100),
  fc.constant(null),
)
const grid = fc
  .integer({ min: 1, max: 6 })
  .chain((width) =>
    fc.array(fc.array(written, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 8 }),
  )

/** What comes back: texts without the blanks around them, nothing for what is blank, and no blank ends. */
function comesBack(rows: readonly (readonly (string | number | null)[])[]): (SheetCell | null)[][] {
  const cells = rows.map((row) =>
    cellsOf(...row.map((cell) => (typeof cell === 'string' ? cell.trim() : cell))),
  )
  const cut = cells.map((row) => row.slice(0, row.findLastIndex((cell) => cell !== null) + 1))
  return cut.slice(0, cut.findLastIndex((row) => row.length > 0) + 1)
}

describe('a workbook', () => {
  test('gives back the texts and numbers that were written', () =>
    fc.assert(
      fc.asyncProperty(grid, fc.constantFrom(...FORMATS), async (rows, format) => {
        const expected = comesBack(rows)
        fc.pre(expected.length > 0)
        expect((await firstSheet(bytesOf({ Jobs: rows }, format))).rows).toEqual(expected)
      }),
      { numRuns: 300 },
    ))

  test('has sheets by name, in order, with those that are hidden', async () => {
    const book = bookOf({ 'Jobs 2025': [['a']], Notes: [['b']], Lists: [['c']] })
    book.Workbook = { Sheets: [{ Hidden: 0 }, { Hidden: 1 }, { Hidden: 2 }] }
    const { sheets } = await readWell(bytesOfBook(book))
    expect(sheets.map(({ name, isHidden }) => [name, isHidden])).toEqual([
      ['Jobs 2025', false],
      ['Notes', true],
      ['Lists', true],
    ])
  })

  test('shows numbers by their format and keeps what is stored', async () => {
    const cells: Cell[] = [
      { t: 'n', v: 84210.456, z: '#,##0.0' },
      { t: 'n', v: 0.125, z: '0.0%' },
      { t: 'n', v: 202511280001 },
      { t: 'n', v: 0.1 + 0.2 },
      { t: 'n', v: 7, z: ';;;' },
    ]
    const { rows } = await firstSheet(bytesOf({ Jobs: [cells] }))
    expect(rows[0]).toEqual([
      { text: '84,210.5', number: 84210.456 },
      { text: '12.5%', number: 0.125 },
      { text: '202511280001', number: 202511280001 },
      { text: '0.3', number: 0.1 + 0.2 },
      { text: '7', number: 7 },
    ])
  })

  test('has true, false and errors as texts', async () => {
    const cells: Cell[] = [true, false, { t: 'e', v: 42 }, { t: 'e', v: 7 }]
    for (const format of ['xlsx', 'biff8'] as const) {
      const { rows } = await firstSheet(bytesOf({ Jobs: [cells] }, format))
      expect(rows[0]).toEqual(cellsOf('TRUE', 'FALSE', '#N/A', '#DIV/0!'))
    }
  })

  test('says what was seen and is not used', async () => {
    const book = bookOf({
      Jobs: [
        ['Unit', 'Done'],
        ['V01', 1],
        ['V02', 2],
        ['V03', 3],
        ['V04', 4],
      ],
    })
    const sheet = book.Sheets.Jobs
    if (!sheet) throw new Error('no sheet')
    sheet['!merges'] = [{ s: { r: 1, c: 0 }, e: { r: 2, c: 0 } }]
    sheet['!rows'] = [{}, { hidden: true }, { hidden: true }]
    // Hidden up to the last column that there is, as people do to have nothing beside the table.
    sheet['!cols'] = Array.from({ length: 100 }, (_, column) => ({ wch: 8, hidden: column > 0 }))
    const { noticed } = await firstSheet(bytesOfBook(book))
    expect(noticed).toEqual({
      merged: 1,
      coloured: 0,
      formulasWithoutResult: 0,
      hiddenRows: 2,
      hiddenColumns: 1,
    })
  })
})

describe('a date', () => {
  const FIRST = Date.UTC(1900, 0, 1)
  const DAY = 86_400_000
  const iso = (ms: number) => new Date(ms).toISOString().slice(0, 10)

  // ECMA-376 Part 1, 18.17.4.1, from memory: 1900-01-01 is 1, the 29 February 1900 that never was is 60, 1900-03-01 is
  // 61, 9999-12-31 is 2958465; in the system of 1904, 1904-01-01 is 0 and every day is 1462 lower.
  test('is reckoned from the beginning of its date system', () => {
    const of1900 = [0, 1, 59, 60, 61, 36526, 2958465, 2958466, -1].map((serial) => dayOfSerial(serial, false))
    expect(of1900).toEqual([
      null,
      '1900-01-01',
      '1900-02-28',
      null,
      '1900-03-01',
      '2000-01-01',
      '9999-12-31',
      null,
      null,
    ])
    const of1904 = [-1, 0, 1, 36526 - 1462, 2958465 - 1462, 2958466 - 1462].map((serial) =>
      dayOfSerial(serial, true),
    )
    expect(of1904).toEqual([null, '1904-01-01', '1904-01-02', '2000-01-01', '9999-12-31', null])
  })

  test('comes back as the day that the calendar has, in both systems and in every format', () => {
    const day = fc.integer({ min: 0, max: 73_000 })
    const time = fc.double({ min: 0, max: 0.9999, noNaN: true })
    return fc.assert(
      fc.asyncProperty(
        day,
        time,
        fc.boolean(),
        fc.constantFrom(...FORMATS),
        async (day, time, is1904, format) => {
          const date = FIRST + day * DAY
          const lies = !is1904 || date >= Date.UTC(1904, 0, 1)
          fc.pre(lies)
          const serial = is1904
            ? (date - Date.UTC(1904, 0, 1)) / DAY
            : (date - Date.UTC(1899, 11, 31)) / DAY + (date >= Date.UTC(1900, 2, 1) ? 1 : 0)
          const ofTime = format === 'ods' ? 0 : time
          const book = bookOf({ Jobs: [[dateCell(serial + ofTime, 'm/d/yy')]] })
          book.Workbook = { WBProps: { date1904: is1904 } }
          const { rows } = await firstSheet(bytesOfBook(book, format))
          expect(rows[0]?.[0]).toMatchObject({ iso: iso(date) })
        },
      ),
      { numRuns: 300 },
    )
  })

  test('is one by its number format alone', () => {
    const dates = [
      'dd.mm.yyyy',
      'd/m/yy;@',
      '[$-407]d. mmmm yyyy',
      'mmm\\-yy',
      'yyyy"-"mm',
      'yyyy',
      'm/d/yy h:mm',
      'mmmm',
    ]
    expect(dates.filter((format) => !showsDay(format))).toEqual([])
    const none = [
      'General',
      '0.00',
      '#,##0" day"',
      '[Red]-0',
      'h:mm',
      '[h]:mm:ss',
      'mm:ss.0',
      '0\\d',
      '_d0',
      '@',
      '0.0%',
    ]
    expect(none.filter(showsDay)).toEqual([])
  })

  test('is shown as the workbook shows it, points and all', async () => {
    const cells = [
      dateCell(45992.75, 'dd.mm.yyyy'),
      dateCell(45992.75, 'dd.mm.yyyy hh:mm'),
      dateCell(45992, 'mm.yyyy'),
    ]
    const { rows } = await firstSheet(bytesOf({ Jobs: [cells] }))
    expect(rows[0]?.map((cell) => [cell?.text, cell?.iso])).toEqual([
      ['01.12.2025', '2025-12-01'],
      ['01.12.2025 18:00', '2025-12-01'],
      ['12.2025', '2025-12-01'],
    ])
  })

  test('that fell short of its midnight by the dust of arithmetic is that day', () => {
    expect(dayOfSerial(45991.99999999999, false)).toBe('2025-12-01')
    expect(dayOfSerial(45991.9999, false)).toBe('2025-11-30')
  })

  test('is none where only a time of day is shown', async () => {
    const { rows } = await firstSheet(bytesOf({ Jobs: [[dateCell(0.5, 'h:mm'), dateCell(1.5, '[h]:mm')]] }))
    expect(rows[0]).toEqual([
      { text: '12:00', number: 0.5 },
      { text: '36:00', number: 1.5 },
    ])
  })
})

describe('a text file', () => {
  const cell = fc.string({ unit: fc.constantFrom(...'aZ09 äß€"\n./='), maxLength: 8 })
  const table = fc
    .integer({ min: 2, max: 6 })
    .chain((width) =>
      fc.array(fc.array(cell, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 8 }),
    )

  test('gives back the texts that were written, whatever stands between them', () =>
    fc.assert(
      fc.asyncProperty(table, fc.constantFrom(',', ';', '\t'), async (rows, separator) => {
        const expected = comesBack(rows)
        fc.pre(expected.length > 0)
        const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`
        const text = rows.map((row) => row.map(quoted).join(separator)).join('\r\n')
        expect((await firstSheet(textBytes(text), 'jobs.csv')).rows).toEqual(expected)
        const plain = rows.map((row) => csvLine(row)).join('')
        expect((await firstSheet(textBytes(plain), 'jobs.csv')).rows).toEqual(expected)
      }),
      { numRuns: 300 },
    ))

  test('is read by what stands in it, under whatever name', async () => {
    expect(textsOf(await firstSheet(textBytes('a;b\n1;2\n'), 'jobs.xlsx'))).toEqual([
      ['a', 'b'],
      ['1', '2'],
    ])
    expect(textsOf(await firstSheet(bytesOf({ Jobs: [['a', 'b']] }), 'jobs.csv'))).toEqual([['a', 'b']])
  })

  test('keeps figures as texts: a leading 0 is part of a number', async () => {
    const { rows, name } = await firstSheet(textBytes('007,03/04/2025\n'), 'week 12.csv')
    expect([name, rows]).toEqual(['week 12', [[{ text: '007' }, { text: '03/04/2025' }]]])
  })

  test('finds what stands between cells under titles, and with commas in numbers', async () => {
    const text = 'Jobs, all of them, 2025\n\nUnit;Cost;Hours\nV01;12,5;3,25\nV02;1,5;\n'
    expect(textsOf(await firstSheet(textBytes(text), 'jobs.csv'))).toEqual([
      ['Jobs, all of them, 2025'],
      [],
      ['Unit', 'Cost', 'Hours'],
      ['V01', '12,5', '3,25'],
      ['V02', '1,5'],
    ])
    expect(textsOf(await firstSheet(textBytes('sep=;\na;b\n'), 'jobs.csv'))).toEqual([[], ['a', 'b']])
  })

  test('parts a row with a broken quote all the same', async () => {
    expect(textsOf(await firstSheet(textBytes('a,b\n"x,y\n1,2\n'), 'jobs.csv'))).toEqual([
      ['a', 'b'],
      ['"x', 'y'],
      ['1', '2'],
    ])
  })

  test('may be in other letters than UTF-8, and says which were taken', async () => {
    const text = 'Unit;Ort\nV01;Köln\n'
    const western = await readWell(new Uint8Array(Buffer.from(text, 'latin1')), 'jobs.csv')
    expect(textsOf(sheetAt(western))).toEqual([
      ['Unit', 'Ort'],
      ['V01', 'Köln'],
    ])
    expect(western.notes?.[0]).toContain('Windows-1252')
    const wide = await readWell(new Uint8Array(Buffer.from(`\uFEFF${text}`, 'utf16le')), 'jobs.txt')
    expect(textsOf(sheetAt(wide))).toEqual(textsOf(sheetAt(western)))
    const marked = await readWell(textBytes(`\uFEFF${text}`), 'jobs.csv')
    expect([textsOf(sheetAt(marked)), marked.notes]).toEqual([textsOf(sheetAt(western)), []])
  })

  test('in UTF-8 that was cut within a letter stays in UTF-8', async () => {
    const bytes = textBytes('Unit;Ort\nV01;Köln\nV02;Gräfelfing\nV03;Fürth\nV04;Mü').subarray(0, -1)
    const { sheets, notes } = await readWell(bytes, 'jobs.csv')
    expect(sheets[0]?.rows[1]?.[1]?.text).toBe('Köln')
    expect(notes).toEqual(['1 of its letters cannot be read: they stand as �'])
  })
})
