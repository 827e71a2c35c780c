/** Cells and sheets as the workbook library hands them over, made ours. */
import type { CellObject, DenseWorkSheet } from '@e965/xlsx'
import { IntakeRefusal } from '../../findings'
import type { Noticed, Sheet, SheetCell } from '../sheets'
import { cleanText } from './clean-text'
import { NumberShower } from './shown-number'

/** What a format for workbooks can hold at most. */
export const MOST_ROWS = 1_048_576
export const MOST_COLUMNS = 16_384
/** Places of cells, the blank ones before the last of a row among them. */
const MOST_PLACES = 20_000_000

/** What all sheets of a workbook share. */
export interface SheetGround {
  is1904: boolean
}

/** A sheet with what was seen in it; takes the cells away from where they come from, so that memory is given back. */
export function sheetOf(
  name: string,
  source: DenseWorkSheet,
  { is1904, isHidden }: SheetGround & { isHidden: boolean },
): Sheet {
  const reader = new CellReader(is1904)
  const data = source['!data']
  const rows: Sheet['rows'] = []
  let [width, places] = [0, 0]
  data.forEach((cells, row) => {
    const read = reader.readRow(cells)
    data[row] = []
    if (read.length === 0) return
    places += read.length + (row - rows.length)
    width = Math.max(width, read.length)
    refuseTooLarge(name, row + 1, width, places)
    while (rows.length < row) rows.push([])
    rows.push(read)
  })
  const hidden = (infos: readonly ({ hidden?: boolean } | undefined)[] | undefined, within: number) =>
    (infos ?? []).slice(0, within).filter((info) => info?.hidden).length
  const noticed: Noticed = {
    merged: source['!merges']?.length ?? 0,
    coloured: reader.coloured,
    formulasWithoutResult: reader.formulasWithoutResult,
    hiddenRows: hidden(source['!rows'], rows.length),
    hiddenColumns: hidden(source['!cols'], width),
  }
  return { name, isHidden, rows, noticed }
}

/** @throws IntakeRefusal where a sheet has more than can be looked through */
export function refuseTooLarge(name: string, rows: number, columns: number, places: number): void {
  const sheet = `The sheet ${name} has more than`
  if (rows > MOST_ROWS) throw new IntakeRefusal(`${sheet} 1,048,576 rows: split it`)
  if (columns > MOST_COLUMNS) throw new IntakeRefusal(`${sheet} 16,384 columns: split it`)
  if (places > MOST_PLACES) throw new IntakeRefusal(`${sheet} 20 million cells: split it`)
}

class CellReader {
  coloured = 0
  formulasWithoutResult = 0
  private readonly shower: NumberShower

  constructor(is1904: boolean) {
    this.shower = new NumberShower(is1904)
  }

  /** Up to the last cell that is not blank. */
  readRow(cells: readonly (CellObject | undefined)[]): (SheetCell | null)[] {
    const row: (SheetCell | null)[] = []
    cells.forEach((cell, column) => {
      const read = cell === undefined ? null : this.read(cell)
      if (read === null) return
      while (row.length < column) row.push(null)
      row.push(read)
    })
    return row
  }

  private read(cell: CellObject): SheetCell | null {
    if (isColoured(cell.s)) this.coloured += 1
    // The library gives a formula without a result as a blank cell with a formula.
    if (cell.t === 'z' && cell.f !== undefined) this.formulasWithoutResult += 1
    if (cell.t === 'n' && typeof cell.v === 'number' && Number.isFinite(cell.v))
      return this.ofNumber(cell, cell.v)
    const text = cell.t === 'z' ? '' : cleanText(shownOf(cell))
    return text === '' ? null : { text }
  }

  private ofNumber({ w, z }: CellObject, number: number): SheetCell {
    const { text, iso } = this.shower.show(number, typeof z === 'string' ? z : null)
    const shown = (w !== undefined && cleanText(w)) || cleanText(text)
    return iso === null ? { text: shown, number } : { text: shown, number, iso }
  }
}

/** Errors by their numbers (ECMA-376 Part 1, 18.17.3 has the words; the numbers are BIFF's, from memory). */
const ERRORS: Record<number, string> = {
  0: '#NULL!',
  7: '#DIV/0!',
  15: '#VALUE!',
  23: '#REF!',
  29: '#NAME?',
  36: '#NUM!',
  42: '#N/A',
}

/** What a text was typed as, its format left aside: that can only cut it. An error is a text, so that it is seen. */
function shownOf({ t, v }: CellObject): string {
  if (t === 'b') return v ? 'TRUE' : 'FALSE'
  return t === 'e' ? (ERRORS[Number(v)] ?? '#ERROR') : String(v ?? '')
}

type Style = { patternType?: string; fgColor?: { rgb?: string } } | undefined

const isColoured = (style: Style): boolean =>
  style?.patternType !== undefined &&
  style.patternType !== 'none' &&
  !/^(?:FF)?FFFFFF$/i.test(style.fgColor?.rgb ?? '')
