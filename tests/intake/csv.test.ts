import { parse } from 'csv-parse/sync'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { csvLine } from '@/lib/intake/csv-line'
import { csvRows, separatorOf } from '@/lib/intake/inner/csv'

const cellsOf = (text: string, separator = ',') => [...csvRows(text, separator)].map(({ cells }) => cells)
const linesOf = (text: string) => [...csvRows(text, ',')].map(({ line, lines }) => [line, lines])

/** Cells made of what is hard: quotes, separators, line breaks. */
const cell = fc.string({ unit: fc.constantFrom('"', ',', ';', '\n', '\r\n', 'a', ' ', 'ü') })
const table = fc.integer({ min: 2, max: 5 }).chain((width) => {
  const row = fc.array(cell, { minLength: width, maxLength: width })
  return fc.array(row, { minLength: 1, maxLength: 6 })
})

describe('rows of CSV', () => {
  test('come back as they were written', () =>
    fc.assert(
      fc.property(table, (rows) => {
        expect(cellsOf(rows.map(csvLine).join(''))).toEqual(rows)
      }),
    ))

  test('are those that csv-parse reads', () =>
    fc.assert(
      fc.property(table, fc.constantFrom(',', ';', '\t'), (rows, separator) => {
        const quoted = rows
          .map((row) => row.map((each) => `"${each.replaceAll('"', '""')}"`).join(separator))
          .join('\n')
        const theirs: unknown = parse(quoted, { delimiter: separator, record_delimiter: ['\n', '\r\n'] })
        expect(cellsOf(quoted, separator)).toEqual(theirs)
      }),
    ))

  test('begin on their physical line, quoted line breaks counted', () => {
    expect(linesOf('a,b\r\n1,"x\r\ny\nz"\r\n\r\n3,4')).toEqual([
      [1, 1],
      [2, 3],
      [5, 1],
      [6, 1],
    ])
  })

  test('every line of any text belongs to one row', () =>
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom('"', ',', '\n', '\r', 'a') }), (text) => {
        const rows = [...csvRows(text, ',')]
        const lines = rows.reduce((sum, row) => sum + row.lines, 0)
        expect(lines).toBe(text === '' ? 0 : text.replace(/\n$/, '').split('\n').length)
        expect(rows.map((row) => row.line)).toEqual(
          rows.map((_, i) => 1 + rows.slice(0, i).reduce((s, r) => s + r.lines, 0)),
        )
      }),
    ))

  test('a quote that never closes costs its own line and no other', () => {
    const rows = [...csvRows('a,b\n1,"5 in\n2,x\n3,"said ""so"""\n', ',')]
    expect(rows.map(({ line, cells }) => [line, cells])).toEqual([
      [1, ['a', 'b']],
      [2, null],
      [3, ['2', 'x']],
      [4, ['3', 'said "so"']],
    ])
  })

  test('a quote inside a cell that began without one is a sign like any other', () =>
    expect(cellsOf('1,5" hose')).toEqual([['1', '5" hose']]))
})

test('the separator is the one that the header holds most', () => {
  expect(separatorOf('unit;read_on;odometer_km')).toBe(';')
  expect(separatorOf('unit\tread_on\tnote, or not')).toBe('\t')
  expect(separatorOf('unit,"a;b;c;d",read_on')).toBe(',')
  expect(separatorOf('unit')).toBe(',')
})
