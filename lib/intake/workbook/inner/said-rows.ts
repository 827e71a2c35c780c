/** The rows of a sheet, by what its columns mean. */
import { KM_PER_MILE } from '@/lib/units/distances'
import type { ColumnMapping, Meaning, SheetMapping } from '../mapping'
import { MEANINGS, saidOf } from '../mapping'
import type { ColumnProfile, SheetProfile } from '../profile'
import { oneLine, type ReadingGround, readCell } from '../read-cells'
import type { Sheet } from '../sheets'

/** Meanings of which a row may say several things: every cell of them counts, as it is written. */
type Several = 'work' | 'codes' | 'signs'
const SEVERAL: readonly string[] = ['work', 'codes', 'signs'] satisfies Several[]

export interface SaidRow {
  /** On which line of a file it comes: its row in the sheet, one more where no row heads the sheet. */
  line: number
  /** What it says, as it stands in our files; distances in km where the sheet's are not all in miles. */
  values: Partial<Record<Meaning, string>>
  several: Record<Several, string[]>
  /** How much was written of dates that were not written whole. */
  precision: Partial<Record<Meaning, 'month' | 'year'>>
  /** Cells that are kept word for word, by the header of their column. */
  notes: Record<string, string>
}

export interface SaidRows {
  rows: SaidRow[]
  /** Whether all distances of the sheet are in miles, and stay so. */
  distance: 'km' | 'mi'
  leftOut: { totals: number; repeatedHeaders: number; remarks: number }
}

type Column = { profile: ColumnProfile; said: ColumnMapping; inKm: boolean }

/** Reads the rows below the header that say anything; totals, repeated headers and remarks are left out and counted. */
export function saidRows(
  sheet: Sheet,
  profile: SheetProfile,
  mapping: SheetMapping,
  ground: ReadingGround,
): SaidRows {
  const columns = columnsOf(profile, mapping)
  const distances = columns.filter(({ said }) => MEANINGS[said.meaning].reads === 'distance')
  const inMiles = distances.length > 0 && distances.every(({ said }) => said.distance === 'mi')
  for (const column of distances) column.inKm = !inMiles && column.said.distance === 'mi'
  const [totals, headers] = [new Set(profile.totals), new Set(profile.repeatedHeaders)]
  const remarks = new Set(profile.remarks)
  const leftOut = { totals: 0, repeatedHeaders: 0, remarks: 0 }
  const rows: SaidRow[] = []
  const { headerRow } = mapping
  for (let row = (headerRow ?? 0) + 1; row <= sheet.rows.length; row++) {
    const cells = sheet.rows[row - 1] ?? []
    if (cells.every((cell) => cell === null || cell.text.trim() === '')) continue
    if (totals.has(row)) leftOut.totals++
    else if (headers.has(row)) leftOut.repeatedHeaders++
    else if (remarks.has(row) && !tellsOfWork(cells, columns)) leftOut.remarks++
    else rows.push(saidRow(headerRow === null ? row + 1 : row, cells, columns, mapping, ground))
  }
  return { rows, distance: inMiles ? 'mi' : 'km', leftOut }
}

/** A sentence in a column of work is work, though its row says neither whose nor when: it is refused, and seen. */
const tellsOfWork = (cells: Sheet['rows'][number], columns: readonly Column[]): boolean =>
  columns.some(({ profile, said }) => isSeveral(said.meaning) && cells[profile.index])

function columnsOf(profile: SheetProfile, mapping: SheetMapping): Column[] {
  return profile.columns.flatMap((column) => {
    const said = saidOf(mapping.columns, column.key)
    return said && said.meaning !== 'leftOut' ? [{ profile: column, said, inKm: false }] : []
  })
}

function saidRow(
  line: number,
  cells: Sheet['rows'][number],
  columns: readonly Column[],
  mapping: SheetMapping,
  ground: ReadingGround,
): SaidRow {
  const row: SaidRow = {
    line,
    values: {},
    several: { work: [], codes: [], signs: [] },
    precision: {},
    notes: {},
  }
  for (const { profile, said, inKm } of columns) {
    const cell = cells[profile.index]
    if (!cell || cell.text.trim() === '') continue
    const { meaning } = said
    if (meaning === 'note') row.notes[profile.header] = oneLine(cell.text)
    else if (isSeveral(meaning)) row.several[meaning].push(cell.text)
    else if (!row.values[meaning]) {
      const { text, isRead, precision } = readCell(cell, said, ground)
      row.values[meaning] = inKm && isRead ? String(Number(text) * KM_PER_MILE) : text
      if (precision === 'month' || precision === 'year') row.precision[meaning] = precision
    }
  }
  if (mapping.date !== null && !row.values.date) row.values.date = mapping.date
  return row
}

const isSeveral = (meaning: Meaning): meaning is Several => SEVERAL.includes(meaning)
