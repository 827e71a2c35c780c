import type { z } from 'zod'
import type { Library } from '@/lib/records/library'
import {
  changeColumns,
  checkColumns,
  codeColumns,
  type Records,
  readingColumns,
  repairColumns,
  vehicleColumns,
} from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import { IntakeRefusal, type Notice, type RejectedRow } from './findings'
import type { Kept } from './inner/accepted-rows'
import { type Checked, checkCheck, checkCode, checkRepair, checkVehicle } from './inner/check-rows'
import { KnownUnits, knownFamilies } from './inner/known-names'
import { unknownCodes, vehicleNotices } from './inner/notices'
import { readTable } from './inner/read-table'
import type { ReadRow } from './inner/row-reader'
import { asRead, ofKnown, rowTaker } from './inner/row-taker'
import { readSettings } from './read-settings'

/** What came in, what did not, and what a person should know. */
export interface Intake {
  records: Records
  rejected: RejectedRow[]
  warnings: Notice[]
}

/** The files that a data folder can hold; vehicles.csv it must. */
export const DATA_FILES = [
  'vehicles.csv',
  'readings.csv',
  'codes.csv',
  'checks.csv',
  'repairs.csv',
  'changes.csv',
  'settings.json',
] as const

/**
 * Takes in the files of a data folder. Every row goes in or is rejected with its line, column and reason.
 *
 * @param files contents by name; those that are missing count as empty, but for vehicles.csv.
 * @param library the knowledge that names in the rows refer to.
 * @param today rows dated later are rejected.
 * @throws IntakeRefusal where nothing can be taken in: no vehicles.csv, wrong settings, another currency.
 */
export function readFiles(files: ReadonlyMap<string, Uint8Array>, library: Library, today: Day): Intake {
  if (!files.has('vehicles.csv'))
    throw new IntakeRefusal(`no vehicles.csv; expected ${DATA_FILES.join(', ')}`)
  const warnings: Notice[] = []
  const rejected: RejectedRow[] = []
  const settings = settingsFrom(files, library, warnings)
  const families = knownFamilies(library)
  const units = new KnownUnits()
  const desk: Desk = { files, today, rejected, warnings }

  const vehicles = takeIn(desk, VEHICLES, (row) => checkVehicle(row, families.get(row.family) ?? null))
  // Without vehicles every other row would be rejected, one by one, for the same reason.
  const unreadable = rejected.find(({ line }) => line === FIRST_LINE)
  if (unreadable) throw new IntakeRefusal(`vehicles.csv: ${unreadable.reason}`)
  for (const { unit, family } of vehicles) units.add({ unit, family: families.get(family) ?? null })

  const records: Records = {
    vehicles,
    readings: takeIn(desk, READINGS, ofKnown(units, asRead)),
    codes: takeIn(desk, CODES, ofKnown(units, checkCode)),
    checks: takeIn(desk, CHECKS, ofKnown(units, checkCheck)),
    repairs: takeIn(desk, REPAIRS, ofKnown(units, checkRepair)),
    changes: takeIn(desk, CHANGES, ofKnown(units, asRead)),
    settings,
  }
  const ofVehicles = vehicles.flatMap((vehicle) => vehicleNotices(vehicle, families))
  return { records, rejected, warnings: [...warnings, ...ofVehicles, ...unknownCodes(records.codes, units)] }
}

/** A file of the folder: its columns, and whether a unit stands in it once. */
interface FileKind<Schema extends z.ZodObject> {
  file: string
  schema: Schema
  oncePerUnit?: boolean
}

const VEHICLES = { file: 'vehicles.csv', schema: vehicleColumns, oncePerUnit: true }
const READINGS = { file: 'readings.csv', schema: readingColumns }
const CODES = { file: 'codes.csv', schema: codeColumns }
const CHECKS = { file: 'checks.csv', schema: checkColumns }
const REPAIRS = { file: 'repairs.csv', schema: repairColumns }
const CHANGES = { file: 'changes.csv', schema: changeColumns }

/** Only a file as a whole is rejected as its first line. */
const FIRST_LINE = 1

/** Where the files come from and where what is found goes. */
interface Desk {
  files: ReadonlyMap<string, Uint8Array>
  today: Day
  rejected: RejectedRow[]
  warnings: Notice[]
}

/** The rows of one file that go in. */
function takeIn<Schema extends z.ZodObject, Row extends Kept>(
  { files, today, rejected, warnings }: Desk,
  { file, schema, oncePerUnit = false }: FileKind<Schema>,
  check: (row: ReadRow<Schema>) => Checked<Row>,
): Row[] {
  const bytes = files.get(file)
  if (!bytes) return []
  const { take, accepted } = rowTaker({ schema, oncePerUnit, today, check })
  readTable(
    { file, bytes },
    { schema, take, reject: (row) => rejected.push(row), notice: (n) => warnings.push(n) },
  )
  warnings.push(...accepted.notices().map((message) => ({ file, line: null, message })))
  return accepted.list()
}

function settingsFrom(
  files: ReadonlyMap<string, Uint8Array>,
  library: Library,
  warnings: Notice[],
): Records['settings'] {
  const { settings, notices } = readSettings(files.get('settings.json'))
  warnings.push(...notices)
  if (settings.currency !== null && library.currency !== null && settings.currency !== library.currency) {
    throw new IntakeRefusal(
      `settings.json: the currency is ${settings.currency}, but the library's prices are in ${library.currency}; prices are not converted`,
    )
  }
  return settings
}
