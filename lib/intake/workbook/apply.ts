/** From a workbook and what people say it means to files of ours. */
import type { Applied, AppliedFile, ApplyGround, FurtherLines } from './applied'
import { KnownVehicles } from './inner/known-vehicles'
import { OwnRefs } from './inner/own-refs'
import { saidRows } from './inner/said-rows'
import { SheetAtWork } from './inner/sheet-at-work'
import type { FirstRecord } from './inner/vehicle-records'
import { type Mapping, saidOf } from './mapping'
import type { WorkbookProfile } from './profile'
import type { Workbook } from './sheets'

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
  const told = sheets.map(({ told }) => ({
    ...told,
    further: files.flatMap((file) => (file.sheet === told.sheet ? furtherOf(file) : [])),
  }))
  return { files, told }
}

const ROWS_TOLD = 12

function furtherOf({ name, lastRow, shift, further }: AppliedFile): FurtherLines[] {
  if (further.length === 0) return []
  const rows = further.slice(0, ROWS_TOLD).map((line) => line - shift)
  return [{ file: name, from: lastRow + 1, lines: further.length, rows }]
}
