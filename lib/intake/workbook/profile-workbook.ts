import { findHeading, isBlank } from './find-heading'
import { nameColumns, profileColumn } from './inner/column-profile'
import { remarkIn } from './inner/remark-rows'
import { holdsUnits, isNamedTotal, kindsOfColumns, repeatOf, Sums } from './inner/rows-apart'
import type { SheetProfile, WorkbookProfile } from './profile'
import type { Sheet, Workbook } from './sheets'

/** By the name of the sheet: the row that names its columns, or null where none does. */
export type HeaderRows = Record<string, number | null>

/**
 * Finds out what a workbook looks like, sheet by sheet.
 *
 * @param headerRows where somebody has said which row names the columns of a sheet; else it is found
 * @param onSheet is told how many sheets are done
 */
export function profileWorkbook(
  { sheets, notes }: Workbook,
  headerRows: HeaderRows = {},
  onSheet: (done: number) => void = () => {},
): WorkbookProfile {
  const profiles = sheets.map((sheet, place) => {
    const said = Object.hasOwn(headerRows, sheet.name) ? headerRows[sheet.name] : undefined
    const profile = profileSheet(sheet, said === undefined ? findHeading(sheet.rows) : said)
    onSheet(place + 1)
    return profile
  })
  return { sheets: profiles, notes: notes ?? [] }
}

function profileSheet({ name, isHidden, rows, noticed }: Sheet, headerRow: number | null): SheetProfile {
  const heading = headerRow === null ? [] : (rows[headerRow - 1] ?? [])
  const { data, repeatedHeaders, totals, remarks, units } = partRows(rows, headerRow)
  const columns = nameColumns(heading, units, data).map((column) => profileColumn(column, data))
  return {
    name,
    isHidden,
    rows: rows.filter((row) => !isBlank(row)).length,
    headerRow,
    repeatedHeaders,
    totals,
    remarks: remarks.map(({ row }) => row),
    remarked: remarks.slice(0, REMARKS_SHOWN).map(({ text }) => text.slice(0, LONGEST_REMARK)),
    noticed,
    columns,
    beginning: beginningOf(rows),
  }
}

interface Parted {
  /** Rows that tell of something. */
  data: Sheet['rows']
  /** By their row, 1 for the first of the sheet. */
  repeatedHeaders: number[]
  totals: number[]
  remarks: { row: number; text: string }[]
  /** A row of units right below the heading; it is among the repeated headers. */
  units: Sheet['rows'][number] | null
}

const ROWS_FOR_UNITS = 25
const REMARKS_SHOWN = 5
const LONGEST_REMARK = 200

function partRows(rows: Sheet['rows'], headerRow: number | null): Parted {
  const start = headerRow ?? 0
  const heading = headerRow === null ? [] : (rows[headerRow - 1] ?? [])
  const first = rows[start]
  const hasUnits =
    headerRow !== null &&
    first !== undefined &&
    holdsUnits(first, rows.slice(start + 1, start + ROWS_FOR_UNITS))
  const repeatsHeading = repeatOf(heading)
  const below = rows.slice(start)
  const isRemark = remarkIn(below)
  // What nearly all rows have is no less of it for what somebody wrote below them.
  const { numbers, needed } = kindsOfColumns(below.filter((row) => !isRemark(row)))
  const sums = new Sums(numbers, needed)
  const units = hasUnits ? first : null
  const parted: Parted = { data: [], repeatedHeaders: [], totals: [], remarks: [], units }
  for (let index = start; index < rows.length; index++) {
    const row = rows[index] ?? []
    if (isBlank(row)) continue
    if ((hasUnits && index === start) || repeatsHeading(row)) parted.repeatedHeaders.push(index + 1)
    else if (isNamedTotal(row, needed) || sums.isTotal(row)) {
      parted.totals.push(index + 1)
      sums.clear()
    } else if (isRemark(row)) {
      parted.remarks.push({ row: index + 1, text: row.find((cell) => cell !== null)?.text ?? '' })
    } else {
      parted.data.push(row)
      sums.add(row)
    }
  }
  return parted
}

const ROWS_SHOWN = 30
const COLUMNS_SHOWN = 60

const beginningOf = (rows: Sheet['rows']): string[][] =>
  rows.slice(0, ROWS_SHOWN).map((row) => row.slice(0, COLUMNS_SHOWN).map((cell) => cell?.text ?? ''))
