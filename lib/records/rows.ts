import { z } from 'zod'
import {
  capitals,
  date,
  defaulted,
  name,
  numberUpTo,
  oneOf,
  optional,
  positionList,
  required,
  type SignAt,
  signList,
  text,
  yesNo,
} from './cells'
import type { Settings } from './settings'

/**
 * Every row of a data folder, once: the columns in the order in which they are written, each with how its cell is
 * read. Types are inferred from here; `odometer_km` in a file is `odometerKm` in a record. Distances are in km
 * (a column in miles is converted before it gets here), money in the organisation's currency.
 */

const kilometres = numberUpTo(10_000_000, 'km')
const money = numberUpTo(1_000_000_000)
const own = { ref: optional(name), entered_on: optional(date) }

export const vehicleColumns = z.object({
  unit: required(name),
  vin: optional(capitals),
  plate: optional(name),
  site: optional(name),
  status: defaulted(oneOf(['active', 'stock', 'sold', 'retired']), 'active'),
  left_on: optional(date),
  family: required(name),
  variant: optional(name),
  built_on: optional(date),
  in_service_on: optional(date),
  watched_from_on: optional(date),
  watched_from_km: optional(kilometres),
  history: optional(oneOf(['full', 'none'])),
  duty: defaulted(oneOf(['short', 'mixed', 'long']), 'mixed'),
  value: optional(money),
  customer: optional(name),
  contact: optional(text),
  acquired_on: optional(date),
  acquired_from: optional(text),
  purchase_price: optional(money),
  prep_cost: optional(money),
  asking_price: optional(money),
  sold_on: optional(date),
  cover_until_on: optional(date),
  cover_until_km: optional(kilometres),
  ...own,
})

export const readingColumns = z.object({
  unit: required(name),
  read_on: required(date),
  odometer_km: required(kilometres),
  engine_hours: optional(numberUpTo(1_000_000, 'hours')),
  source: optional(text),
  ...own,
})

export const codeColumns = z.object({
  unit: required(name),
  seen_on: required(date),
  odometer_km: optional(kilometres),
  code: required(capitals),
  state: defaulted(oneOf(['stored', 'pending', 'permanent']), 'stored'),
  lamp: optional(yesNo),
  cleared_on: optional(date),
  ...own,
})

export const checkColumns = z.object({
  unit: required(name),
  checked_on: required(date),
  odometer_km: optional(kilometres),
  kind: required(oneOf(['scan', 'visual', 'road', 'measure', 'lamp', 'report'])),
  seen: defaulted(signList, []),
  looked_for: optional(signList),
  km_since_cleared: optional(kilometres),
  ...own,
})

export const repairColumns = z.object({
  unit: required(name),
  done_on: required(date),
  odometer_km: optional(kilometres),
  weak_point: required(name),
  positions: optional(positionList),
  action: required(oneOf(['renew', 'partial', 'temporary', 'inspect'])),
  revision: optional(name),
  found: optional(oneOf(['failed', 'developing', 'sound'])),
  because: optional(oneOf(['failure', 'sign', 'schedule', 'together', 'campaign'])),
  restored: optional(numberUpTo(1)),
  parts_cost: optional(money),
  labour_hours: optional(numberUpTo(10_000, 'hours')),
  paid_by: optional(oneOf(['own', 'customer', 'supplier', 'maker', 'warranty'])),
  supplier: optional(text),
  batch: optional(text),
  note: optional(text),
  ...own,
})

export const changeColumns = z.object({
  unit: required(name),
  on: required(date),
  odometer_km: optional(kilometres),
  kind: required(
    oneOf(['engine-new', 'engine-used', 'engine-rebuilt', 'owner', 'cluster', 'gap-from', 'gap-to']),
  ),
  engine_km: optional(kilometres),
  offset_km: optional(kilometres),
  ...own,
})

type Camel<Text extends string> = Text extends `${infer Head}_${infer Tail}`
  ? `${Head}${Capitalize<Camel<Tail>>}`
  : Text

/** What every record carries besides its columns: unknown columns as notes, and its line in the file it came from. */
interface Origin {
  notes: Record<string, string>
  line: number
}

/** The parsed columns under their names in a record. */
export type Fields<Columns> = { [Name in keyof Columns & string as Camel<Name>]: Columns[Name] }

type Row<Schema extends z.ZodObject> = Fields<z.output<Schema>> & Origin

/** `history` as it applies: blank is `full` where the vehicle was watched from new, else `none`. */
export type VehicleRow = Omit<Row<typeof vehicleColumns>, 'history'> & { history: 'full' | 'none' }
export type ReadingRow = Row<typeof readingColumns>
export type CodeRow = Row<typeof codeColumns>
/** `lookedFor` null: every sign that this kind of check finds. A positioned sign without position: none was said. */
export type CheckRow = Row<typeof checkColumns>
/**
 * `positions` are numbers, sorted, each once; `[1]` for a weak point with one; none where the file did not say which
 * of several. `weakPoint` may be `other`; `revision` null is the original part and `?` is not known.
 */
export type RepairRow = Omit<Row<typeof repairColumns>, 'positions'> & { positions: number[] }
export type ChangeRow = Row<typeof changeColumns>
export type { Settings, SignAt }

/** The work that belongs to no known weak point. */
export const OTHER_WEAK_POINT = 'other'
/** The sign that says: the engine lamp is on, and nobody has read why. */
export const LAMP_ON = 'lamp-on'
/** A part version that nobody noted. */
export const UNKNOWN_REVISION = '?'

/** One organisation's records; each list in file order. */
export interface Records {
  vehicles: VehicleRow[]
  readings: ReadingRow[]
  codes: CodeRow[]
  checks: CheckRow[]
  repairs: RepairRow[]
  changes: ChangeRow[]
  settings: Settings
}

/** `odometer_km` as a record's field: `odometerKm`. */
export const fieldOf = (column: string): string =>
  column.replace(/_([a-z])/g, (_, letter: string) => letter.toUpperCase())

/** The history that applies to a vehicle whose cell may be blank. */
export function historyOf(
  row: Pick<Row<typeof vehicleColumns>, 'history' | 'watchedFromOn' | 'watchedFromKm'>,
): 'full' | 'none' {
  return row.history ?? (row.watchedFromOn === null && row.watchedFromKm === null ? 'full' : 'none')
}
