import { type BookType, type DenseWorkSheet, read, type WorkBook } from '@e965/xlsx'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { withoutPlainCells } from '@/lib/intake/workbook/inner/plain-cells'
import { sheetOf } from '@/lib/intake/workbook/inner/sheet-cells'
import { partOf, SHEET, workbookOfXml, workbookParts, zipOf } from './archives'
import { bookOf, bytesOf, bytesOfBook, type Cell, dateCell, readWell } from './workbooks'

const OPTIONS = {
  dense: true,
  cellNF: true,
  cellStyles: true,
  cellText: false,
  cellFormula: true,
  cellHTML: false,
  cellDates: false,
} as const

const sheetsOf = ({ SheetNames, Sheets }: WorkBook) =>
  SheetNames.map((name) => sheetOf(name, Sheets[name] as DenseWorkSheet, { is1904: false, isHidden: false }))

/** What the library makes of it by itself: the oracle. */
const byLibrary = (bytes: Uint8Array) => sheetsOf(read(bytes, OPTIONS))

function thinned(bytes: Uint8Array) {
  const plain = withoutPlainCells(bytes, 0)
  if (plain === null) return null
  const book = read(plain.bytes, OPTIONS)
  expect(plain.putBack(book)).toBe(true)
  return sheetsOf(book)
}

const text = fc.string({ unit: fc.constantFrom(...'aZ7äß語😀 <>&"\'_x0041_\n\t=.,-'), maxLength: 12 })
const cell: fc.Arbitrary<Cell> = fc.oneof(
  fc.constant(null),
  text,
  fc.constantFrom('V1', 'oil service', '84210', '1e5', ' a ', '_x000D_', '&amp;'),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.integer({ min: -5, max: 300_000 }),
  fc.boolean(),
  fc.integer({ min: 1, max: 60_000 }).map((serial) => dateCell(serial)),
  fc
    .constantFrom('#,##0.00', '0 "km"', 'dd.mm.yy', '@', '0%')
    .map((z) => ({ t: 'n' as const, v: 1234.5, z })),
  fc.constantFrom<Cell>(
    { t: 'n', v: 3, f: '1+2' },
    { t: 's', v: 'ab', f: '"a"&"b"' },
    { t: 'e', v: 42 },
    { t: 'n', v: 5, F: 'A1:B2', f: 'SUM(A1)' },
  ),
)
const grid = fc.array(fc.array(cell, { maxLength: 6 }), { minLength: 1, maxLength: 8 })

const RUNS = process.env.LONG_TESTS ? 2000 : 60

describe('a sheet without its plain cells, which are put back', () => {
  test('is what the library makes of it whole', () => {
    let plainOnes = 0
    fc.assert(
      fc.property(grid, grid, fc.boolean(), (one, two, inTable) => {
        const book = bookOf({ One: one, 'Two & more': two })
        const bytes = inTable
          ? bytesOfBook(book, 'xlsx')
          : new Uint8Array(bytesOf({ One: one, 'Two & more': two }, 'xlsm' as BookType))
        const read = thinned(bytes)
        if (read !== null) plainOnes++
        if (read !== null) expect(read).toEqual(byLibrary(bytes))
      }),
      { numRuns: RUNS },
    )
    expect(plainOnes).toBeGreaterThan(0.85 * RUNS)
  })

  const strings = `<?xml version="1.0"?><sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">
<si><t>first</t></si><si><r><t>rich </t></r><r><t>text</t></r></si><si><t xml:space="preserve"> a &amp; b </t></si></sst>`
  const withStrings = (rows: string) => {
    const parts = workbookParts(partOf(SHEET, `<worksheet><sheetData>${rows}</sheetData></worksheet>`)).map(
      (part) =>
        part.name === 'xl/_rels/workbook.xml.rels'
          ? partOf(
              part.name,
              `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/>
<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/>
<Relationship Id="rId3" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/></Relationships>`,
            )
          : part.name === '[Content_Types].xml'
            ? partOf(
                part.name,
                `<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>
<Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>
<Override PartName="/xl/sharedStrings.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/>
<Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/></Types>`,
              )
            : part,
    )
    return zipOf([...parts, partOf('xl/sharedStrings.xml', strings)])
  }

  test.each<[string, Uint8Array]>([
    [
      'strings of the table, plain and rich',
      withStrings(
        '<row r="2"><c r="A2" t="s"><v>0</v></c><c r="B2" t="s"><v>1</v></c><c r="D2" s="1" t="s"><v>2</v></c></row>',
      ),
    ],
    [
      'colours, hidden rows, gaps, a row without a cell',
      workbookOfXml(
        '<row r="1" hidden="1"><c r="A1" s="1"><v>5</v></c></row>\n<row r="3" ht="20"/><row r="7" hidden="1"></row><row r="9"><c r="C9" s="2"><v>-1.5E+3</v></c><c r="E9" s="1"/></row>',
      ),
    ],
    [
      'a formula between plain cells, and one without a result',
      workbookOfXml(
        '<row r="1"><c r="A1"><v>1</v></c><c r="B1"><f>A1+1</f><v>2</v></c><c r="C1"><f>A1+2</f></c><c r="D1" t="str"><v>x > y</v></c></row>',
      ),
    ],
    [
      'texts within cells, errors, truths',
      workbookOfXml(
        '<row r="1"><c r="A1" t="inlineStr"><is><t>a</t></is></c><c r="B1" t="e"><v>#N/A</v></c><c r="C1" t="b"><v>1</v></c><c r="D1"><v></v></c><c r="E1"><v>7</v></c></row>',
      ),
    ],
  ])('%s', (_, bytes) => {
    const read = thinned(bytes)
    expect(read).not.toBeNull()
    expect(read).toEqual(byLibrary(bytes))
  })

  test.each<[string, string]>([
    ['cells without their places', '<row r="1"><c><v>1</v></c><c><v>2</v></c></row>'],
    ['rows without their numbers', '<row><c r="A1"><v>1</v></c></row>'],
    ['names with a prefix', '<x:row r="1"><x:c r="A1"><x:v>1</x:v></x:c></x:row>'],
    ['a comment among the rows', '<!-- a --><row r="1"><c r="A1"><v>1</v></c></row>'],
  ])('is left to the library whole where it has %s', (_, rows) =>
    expect(withoutPlainCells(workbookOfXml(rows), 0)).toBeNull(),
  )

  test('and is refused where a string is not in the table', () => {
    const plain = withoutPlainCells(withStrings('<row r="1"><c r="A1" t="s"><v>99</v></c></row>'), 0)
    if (plain === null) throw new Error('it was left to the library')
    const book = read(plain.bytes, OPTIONS)
    expect(() => plain.putBack(book)).toThrow('not in the table')
  })

  test('is read whole where it is not found again: a cell stands in another row than its own', () => {
    const bytes = workbookOfXml('<row r="1"><c r="A1"><v>1</v></c><c r="A9"><f>A1</f><v>2</v></c></row>')
    const plain = withoutPlainCells(bytes, 0)
    if (plain === null) throw new Error('it was left to the library')
    expect(plain.putBack(read(plain.bytes, OPTIONS))).toBe(false)
  })

  test('small sheets are left to the library', () =>
    expect(withoutPlainCells(bytesOf({ Jobs: [['V1', 1]] }))).toBeNull())
})

test('a large workbook comes out as the library reads it', async () => {
  const rows = Array.from({ length: 6000 }, (_, row) => [
    ...[
      `V${row % 40}`,
      dateCell(45_000 + (row % 300)),
      84_000.5 + row,
      `oil & filter ${row % 7}`,
      row % 2 === 0,
    ],
  ])
  const bytes = bytesOf({
    Jobs: [['Unit', 'Date', 'Odometer', 'Work', 'Paid'], ...rows],
    Notes: [['kept by hand']],
  })
  expect(withoutPlainCells(bytes)).not.toBeNull()
  expect((await readWell(bytes)).sheets).toEqual(byLibrary(bytes))
})
