/** A profile of a workbook whose header rows somebody names: the plain way, without finding anything out. */
import type { ColumnProfile, SheetProfile, WorkbookProfile } from '@/lib/intake/workbook/profile'
import type { Sheet, SheetCell, Workbook } from '@/lib/intake/workbook/sheets'
import type { HeaderRows } from './workbooks'

export const profileOf = ({ sheets }: Workbook, headerRows: HeaderRows): WorkbookProfile => ({
  sheets: sheets.map((sheet) => sheetProfile(sheet, headerRows[sheet.name] ?? null)),
})

function sheetProfile(sheet: Sheet, headerRow: number | null): SheetProfile {
  const header = headerRow === null ? [] : (sheet.rows[headerRow - 1] ?? [])
  const textOf = (row: Sheet['rows'][number]) => row.map((cell) => cell?.text ?? '').join('|')
  const below = sheet.rows.map((row, i) => ({ row, n: i + 1 })).filter(({ n }) => n > (headerRow ?? 0))
  const repeated = below.filter(({ row }) => headerRow !== null && textOf(row) === textOf(header))
  const totals = below.filter(({ row }) => /^(total|summe)\b/i.test(row[0]?.text ?? ''))
  const left = new Set([...repeated, ...totals].map(({ n }) => n))
  const rows = below.filter(({ n }) => !left.has(n)).map(({ row }) => row)
  const width = Math.max(0, ...sheet.rows.map((row) => row.length))
  const keys = new Map<string, number>()
  const columns = Array.from({ length: width }, (_, index) => {
    const text = header[index]?.text || `column ${String.fromCharCode(65 + (index % 26))}`
    const time = (keys.get(text) ?? 0) + 1
    keys.set(text, time)
    const cells = rows.flatMap((row) => row[index] ?? [])
    return columnProfile(time === 1 ? text : `${text} (${time})`, index, text, cells)
  })
  return {
    name: sheet.name,
    isHidden: false,
    rows: sheet.rows.filter((row) => row.some((cell) => cell !== null)).length,
    headerRow,
    repeatedHeaders: repeated.map(({ n }) => n),
    totals: totals.map(({ n }) => n),
    noticed: sheet.noticed,
    columns,
    beginning: sheet.rows.slice(0, 20).map((row) => row.map((cell) => cell?.text ?? '')),
  }
}

function columnProfile(key: string, index: number, header: string, cells: SheetCell[]): ColumnProfile {
  const counts = new Map<string, number>()
  for (const { text } of cells) counts.set(text, (counts.get(text) ?? 0) + 1)
  const values = Array.from(counts, ([text, count]) => ({ text, count })).sort((a, b) => b.count - a.count)
  const texts = cells.filter(({ number }) => number === undefined).map(({ text }) => text)
  const like = (form: RegExp) => texts.filter((text) => form.test(text)).length
  const days = texts.flatMap((text) => {
    const [, first, second] = /^(\d{1,2})[./-](\d{1,2})[./-](?:\d{4}|\d{2})(?!\d)/.exec(text) ?? []
    return first === undefined ? [] : [[Number(first), Number(second)] as const]
  })
  return {
    key,
    index,
    header,
    filled: cells.length,
    samples: [...new Map(cells.map((cell) => [cell.text, cell])).values()].slice(0, 5),
    values,
    distinct: counts.size,
    dates: cells.filter(({ iso }) => iso !== undefined).length,
    numbers: cells.filter(({ number, iso }) => number !== undefined && iso === undefined).length,
    texts: texts.length,
    shapes: {
      iso: like(/^\d{4}-\d\d-\d\d/),
      dayFirst: days.filter(([first, second = 0]) => first > 12 && second <= 12).length,
      monthFirst: days.filter(([first, second = 0]) => first <= 12 && second > 12).length,
      eitherOrder: days.filter(([first, second = 0]) => first <= 12 && second <= 12).length,
      monthOnly: like(/^(?:\p{L}{3,}\.? \d{4}|\d{1,2}\/\d{4})$/u),
      commaDecimal: like(/^\D*\d{1,3}(?:\.\d{3})+,\d+|\d,\d{1,2}\b|\d\.\d{3},/),
      pointDecimal: like(/^\D*\d{1,3}(?:,\d{3})+\.\d+|^\D*\d+\.\d{1,2}(?![\d.])/),
      eitherDecimal: like(/^\D*\d{1,3}[.,]\d{3}(?![\d.,])/),
    },
  }
}
