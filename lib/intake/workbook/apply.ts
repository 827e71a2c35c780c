/** From a workbook and what people say it means to files of ours. */
import type { Family } from '@/lib/records/library'
import type { Day } from '@/lib/units/dates'
import type { TableKind } from '../tables'
import { KnownVehicles, type StandingVehicle } from './inner/known-vehicles'
import { OwnRefs } from './inner/own-refs'
import { saidRows } from './inner/said-rows'
import { SheetAtWork } from './inner/sheet-at-work'
import type { FirstRecord } from './inner/vehicle-records'
import { type Mapping, saidOf } from './mapping'
import type { WorkbookProfile } from './profile'
import type { Workbook } from './sheets'

/** What a workbook is read against. */
export interface ApplyGround {
  families: readonly Family[]
  today: Day
  /** Vehicles that are there already: what stands of them is left where a workbook does not say it. */
  standing?: Iterable<StandingVehicle>
}

export interface AppliedFile {
  name: string
  kind: TableKind
  bytes: Uint8Array
  /** The sheet that it comes from, and on which line the rows of the sheet end. */
  sheet: string
  lastRow: number
  /** Its line is the row of the sheet, or one more where no row heads the sheet. */
  shift: 0 | 1
  /** The lines whose further records stand behind the last row, in order. */
  further: number[]
}

/** What became of the rows of a sheet. Every row that says something is counted once: given or left out. */
export interface AppliedSheet {
  sheet: string
  /** Rows of which something comes into a file. */
  given: number
  leftOut: {
    totals: number
    repeatedHeaders: number
    /** Rows in which nothing stands that the sheet is said to tell of. */
    nothing: number
  }
  /** Cells that say something else of a vehicle than an earlier row. */
  contradictions: number
  /** Phrases and words that are tied to nothing: kept beside, without effect. */
  beside: number
}

export interface Applied {
  files: AppliedFile[]
  told: AppliedSheet[]
}

interface Given {
  name: string
  workbook: Workbook
  profile: WorkbookProfile
  mapping: Mapping
  ground: ApplyGround
}

/**
 * Makes files of a workbook: one for each sheet and table that it tells of. Line N of a file is row N of its sheet, so
 * that a row which is refused is found in the workbook; what a row gives beyond one record stands behind the last row.
 * Nothing is refused here: a cell that cannot be read stays as it is written, and reading the files says why.
 *
 * @param name the name of the workbook's file
 */
export function applyMapping({ name, workbook, profile, mapping, ground }: Given): Applied {
  const vehicles = new KnownVehicles(ground.families, ground.standing ?? [])
  const desk = { mapping, ground, vehicles, refs: new OwnRefs() }
  const sheets = workbook.sheets.flatMap((sheet) => {
    const said = saidOf(mapping.sheets, sheet.name)
    const looks = profile.sheets.find((each) => each.name === sheet.name)
    if (!said || !looks || said.tells.length === 0) return []
    const reading = { values: mapping.values, today: ground.today }
    const read = saidRows(sheet, looks, said, reading)
    return [new SheetAtWork(sheet.name, sheet.rows.length, said, read, desk)]
  })
  for (const sheet of sheets) sheet.meetVehicles('with a number')
  for (const sheet of sheets) sheet.meetVehicles('without')
  const first = new Map<string, FirstRecord>()
  for (const sheet of sheets) sheet.takeRows(first)
  const names = new Set<string>()
  const files = sheets.flatMap((sheet) => sheet.files(name, first, names))
  return { files, told: sheets.map(({ told }) => told) }
}
