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

/** A column with what it means in one sentence, and two examples as they stand in a file. */
const says = <Cell extends z.ZodType>(cell: Cell, description: string, ...examples: [string, string]): Cell =>
  cell.meta({ description, examples })

const own = {
  ref: says(
    optional(name),
    'Your own key of the row: the same key with other contents takes its place.',
    '',
    '',
  ),
  entered_on: says(optional(date), 'When it was written down; blank: on its own date.', '', ''),
}

export const vehicleColumns = z.object({
  unit: says(required(name), 'Your own number for the vehicle, which no other has.', 'V-001', 'V-002'),
  vin: says(optional(capitals), 'The 17 characters of ISO 3779.', '', ''),
  plate: says(optional(name), 'The number plate.', 'AB 1234', 'AB 5678'),
  site: says(optional(name), 'Where it is kept.', 'north yard', 'north yard'),
  status: says(
    optional(oneOf(['active', 'stock', 'sold', 'retired'])),
    'active, stock, sold or retired; blank: active.',
    'active',
    'sold',
  ),
  left_on: says(optional(date), 'When it was sold or retired; blank: its last record.', '', '2026-03-14'),
  family: says(
    required(name),
    'The engine family, by its key in the library; one that the library does not have is kept and not assessed.',
    'plover-22',
    'plover-22',
  ),
  variant: says(optional(name), 'The version of the engine, by its key; blank: not known.', '', ''),
  built_on: says(optional(date), 'When it was built.', '2019-05-13', '2020-02-20'),
  in_service_on: says(optional(date), 'When it began to be used.', '2019-06-17', '2020-03-16'),
  watched_from_on: says(optional(date), 'Since when there are records; blank: from new.', '', '2022-08-15'),
  watched_from_km: says(
    optional(kilometres),
    'The odometer when its records begin; blank: from new.',
    '',
    '61000',
  ),
  history: says(
    optional(oneOf(['full', 'none'])),
    'full or none: what is known of the time before its records; blank: full where they begin at new, else none.',
    'full',
    'none',
  ),
  duty: says(
    optional(oneOf(['short', 'mixed', 'long'])),
    'short, mixed or long: the trips that it makes; blank: mixed.',
    'mixed',
    'short',
  ),
  value: says(optional(money), 'What it is worth today.', '9500', ''),
  customer: says(optional(name), 'Whose it is.', '', ''),
  contact: says(optional(text), 'How to reach them.', '', ''),
  acquired_on: says(optional(date), 'When it was bought for stock.', '', ''),
  acquired_from: says(optional(text), 'From whom it was bought.', '', ''),
  purchase_price: says(optional(money), 'What was paid for it.', '', ''),
  prep_cost: says(optional(money), 'What was spent to make it ready.', '', ''),
  asking_price: says(optional(money), 'What is asked for it.', '', ''),
  sold_on: says(optional(date), 'When it was sold.', '', '2026-03-14'),
  cover_until_on: says(optional(date), 'Until when a sold vehicle is under cover.', '', '2027-03-14'),
  cover_until_km: says(
    optional(kilometres),
    'Up to which odometer a sold vehicle is under cover.',
    '',
    '120000',
  ),
  ...own,
})

export const readingColumns = z.object({
  unit: says(required(name), 'The vehicle’s number.', 'V-001', 'V-002'),
  read_on: says(required(date), 'The day of the reading.', '2026-05-18', '2026-05-19'),
  odometer_km: says(required(kilometres), 'What the odometer said.', '84210', '112050'),
  engine_hours: says(optional(numberUpTo(1_000_000, 'hours')), 'Hours that the engine has run.', '', ''),
  source: says(optional(text), 'Where the reading comes from.', 'tracker', 'workshop'),
  ...own,
})

export const codeColumns = z.object({
  unit: says(required(name), 'The vehicle’s number.', 'V-001', 'V-002'),
  seen_on: says(required(date), 'The day on which the code was read.', '2026-05-18', '2026-05-19'),
  odometer_km: says(optional(kilometres), 'The odometer then.', '84210', ''),
  code: says(
    required(capitals),
    'The trouble code: five characters like P0302, or SPN:FMI like 94:18.',
    'P0302',
    '94:18',
  ),
  state: says(
    defaulted(oneOf(['stored', 'pending', 'permanent']), 'stored'),
    'stored, pending or permanent; blank: stored.',
    'stored',
    'pending',
  ),
  lamp: says(optional(yesNo), 'yes or no: whether the engine lamp was on.', 'yes', 'no'),
  cleared_on: says(optional(date), 'When it was cleared; seen after that, it is new.', '2026-05-18', ''),
  ...own,
})

export const checkColumns = z.object({
  unit: says(required(name), 'The vehicle’s number.', 'V-001', 'V-002'),
  checked_on: says(required(date), 'The day of the look.', '2026-05-18', '2026-05-19'),
  odometer_km: says(optional(kilometres), 'The odometer then.', '84210', ''),
  kind: says(
    required(oneOf(['scan', 'visual', 'road', 'measure', 'lamp', 'report'])),
    'scan, visual, road, measure, lamp, or report: what a driver or customer says.',
    'scan',
    'report',
  ),
  seen: says(
    defaulted(signList, []),
    'The signs that were seen, by their keys with spaces between; key@3 for position 3, lamp-on for a lamp that nobody read.',
    'misfire@3',
    'lamp-on',
  ),
  looked_for: says(
    optional(signList),
    'The signs that were looked for; blank: all that this kind of look finds.',
    '',
    '',
  ),
  km_since_cleared: says(
    optional(kilometres),
    'How far ago codes were cleared: a scan soon after tells little.',
    '300',
    '',
  ),
  ...own,
})

export const repairColumns = z.object({
  unit: says(required(name), 'The vehicle’s number.', 'V-001', 'V-002'),
  done_on: says(required(date), 'The day of the repair.', '2026-05-18', '2026-05-19'),
  odometer_km: says(
    optional(kilometres),
    'The odometer then; blank: reckoned from the readings.',
    '84210',
    '',
  ),
  weak_point: says(
    required(name),
    'The weak point, by its key in the library; other for work about none of them.',
    'injector',
    'other',
  ),
  positions: says(
    optional(positionList),
    'all, or the numbers of cylinders or banks with spaces between.',
    '1 3',
    '',
  ),
  action: says(
    required(oneOf(['renew', 'partial', 'temporary', 'inspect'])),
    'renew, partial, temporary, or inspect: opened and looked at.',
    'renew',
    'inspect',
  ),
  revision: says(optional(name), 'The part version; blank: the original, ? for not known.', 'mk2', ''),
  found: says(
    optional(oneOf(['failed', 'developing', 'sound'])),
    'failed, developing or sound: what opening it showed.',
    'failed',
    '',
  ),
  because: says(
    optional(oneOf(['failure', 'sign', 'schedule', 'together', 'campaign'])),
    'failure, sign, schedule, together or campaign: why it was opened.',
    'failure',
    '',
  ),
  restored: says(
    optional(numberUpTo(1)),
    'The share of its age that a partial repair takes away, 0 to 1; blank: the library’s.',
    '',
    '',
  ),
  parts_cost: says(optional(money), 'What the parts cost.', '180', ''),
  labour_hours: says(optional(numberUpTo(10_000, 'hours')), 'Hours of labour.', '1.5', '0.5'),
  paid_by: says(
    optional(oneOf(['own', 'customer', 'supplier', 'maker', 'warranty'])),
    'own, customer, supplier, maker or warranty: who paid.',
    'own',
    '',
  ),
  supplier: says(optional(text), 'Who supplied the part.', '', ''),
  batch: says(optional(text), 'The batch of the part.', '', ''),
  note: says(optional(text), 'Anything else.', '', 'oil changed'),
  ...own,
})

export const changeColumns = z.object({
  unit: says(required(name), 'The vehicle’s number.', 'V-001', 'V-002'),
  on: says(required(date), 'The day of the change.', '2026-05-18', '2026-05-19'),
  odometer_km: says(optional(kilometres), 'The odometer then.', '84210', '112050'),
  kind: says(
    required(
      oneOf(['engine-new', 'engine-used', 'engine-rebuilt', 'owner', 'cluster', 'gap-from', 'gap-to']),
    ),
    'engine-new, engine-used, engine-rebuilt, owner, cluster (a new instrument), gap-from or gap-to (records are missing).',
    'engine-used',
    'cluster',
  ),
  engine_km: says(optional(kilometres), 'What a used engine had run.', '60000', ''),
  offset_km: says(
    optional(kilometres),
    'What the vehicle had run when the new instrument began.',
    '',
    '112050',
  ),
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

/** The fields of a vehicle whose blank cell means something: what it means stands in the row. */
export type DefaultedField = 'status' | 'duty' | 'history'

/** `history` as it applies: blank is `full` where the vehicle was watched from new, else `none`. */
export type VehicleRow = Omit<Row<typeof vehicleColumns>, DefaultedField> & {
  [Field in DefaultedField]: NonNullable<Row<typeof vehicleColumns>[Field]>
}
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
