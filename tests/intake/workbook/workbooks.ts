/** Workbooks made for tests, cell by cell. */
import { type BookType, type CellObject, utils, type WorkBook, write } from '@e965/xlsx'
import { readWorkbook } from '@/lib/intake/workbook/read-workbook'
import type { Sheet, SheetCell, Workbook } from '@/lib/intake/workbook/sheets'

export type Cell = string | number | boolean | null | CellObject
export type Grid = readonly (readonly Cell[])[]

export const dateCell = (serial: number, format = 'yyyy-mm-dd'): CellObject => ({
  t: 'n',
  v: serial,
  z: format,
})

export function bookOf(sheets: Record<string, Grid>): WorkBook {
  const book = utils.book_new()
  for (const [name, grid] of Object.entries(sheets)) {
    utils.book_append_sheet(book, utils.aoa_to_sheet(grid as Cell[][], { dense: true }), name)
  }
  return book
}

export const bytesOfBook = (book: WorkBook, bookType: BookType = 'xlsx'): Uint8Array =>
  new Uint8Array(write(book, { type: 'buffer', bookType, compression: true }))

export const bytesOf = (sheets: Record<string, Grid>, bookType: BookType = 'xlsx'): Uint8Array =>
  bytesOfBook(bookOf(sheets), bookType)

export async function readWell(bytes: Uint8Array, name = 'jobs.xlsx'): Promise<Workbook> {
  const read = await readWorkbook(name, bytes)
  if (!read.ok) throw new Error(read.reason)
  return read.workbook
}

export const sheetAt = (workbook: Workbook, place = 0): Sheet => {
  const sheet = workbook.sheets[place]
  if (!sheet) throw new Error(`no sheet ${place}`)
  return sheet
}

export const firstSheet = async (bytes: Uint8Array, name?: string): Promise<Sheet> =>
  sheetAt(await readWell(bytes, name))

/** The texts of a sheet; null where nothing is. */
export const textsOf = ({ rows }: Sheet): (string | null)[][] =>
  rows.map((row) => row.map((cell) => cell?.text ?? null))

export const textBytes = (text: string): Uint8Array => new TextEncoder().encode(text)

/** A row of a sheet by hand: a text, a number, or a day of the workbook's own. */
export const cellsOf = (...cells: (string | number | null | { iso: string })[]): (SheetCell | null)[] =>
  cells.map((cell) => {
    if (cell === null || cell === '') return null
    if (typeof cell === 'string') return { text: cell }
    if (typeof cell === 'number') return { text: String(cell), number: cell }
    return { text: cell.iso, number: Date.parse(cell.iso) / 86_400_000 + 25_569, iso: cell.iso }
  })
