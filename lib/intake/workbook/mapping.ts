/** What people say of a workbook: which sheet tells of what, what each column is, what its words stand for. */
import { z } from 'zod'
import { ROW_KINDS, type RowKind, TABLE_KINDS } from '../tables'

/** How the cells of a column are read. */
export type Reading =
  | 'text'
  | 'date'
  | 'number'
  | 'distance'
  /** Words that stand for one of a list, or for a key of the library. */
  | 'words'
  /** Free text that may tell of several jobs. */
  | 'work'
  /** Trouble codes, one or several. */
  | 'codes'

/** What a column may be: how it is read, and the column of each of our tables that it fills. */
export type MeaningOf = { reads: Reading; fills: Partial<Record<RowKind, string>> }

const inVehicles = (reads: Reading, vehicles: string): MeaningOf => ({ reads, fills: { vehicles } })
const inRepairs = (reads: Reading, repairs: string): MeaningOf => ({ reads, fills: { repairs } })
const inParts = (reads: Reading, parts: string) => ({ reads, fills: { parts } }) satisfies MeaningOf
/** In every table of a vehicle. */
const everywhere = (column: string): Partial<Record<RowKind, string>> =>
  Object.fromEntries(TABLE_KINDS.map((kind) => [kind, column]))

export const MEANINGS = {
  unit: { reads: 'text', fills: everywhere('unit') },
  date: {
    reads: 'date',
    fills: {
      readings: 'read_on',
      codes: 'seen_on',
      checks: 'checked_on',
      repairs: 'done_on',
      changes: 'on',
    },
  },
  enteredOn: { reads: 'date', fills: everywhere('entered_on') },
  odometer: {
    reads: 'distance',
    fills: {
      readings: 'odometer_km',
      codes: 'odometer_km',
      checks: 'odometer_km',
      repairs: 'odometer_km',
      changes: 'odometer_km',
    },
  },
  engineHours: { reads: 'number', fills: { readings: 'engine_hours' } },
  source: { reads: 'text', fills: { readings: 'source' } },
  engine: inVehicles('words', 'family'),
  version: inVehicles('words', 'variant'),
  vin: inVehicles('text', 'vin'),
  plate: inVehicles('text', 'plate'),
  site: inVehicles('text', 'site'),
  status: inVehicles('words', 'status'),
  leftOn: inVehicles('date', 'left_on'),
  builtOn: inVehicles('date', 'built_on'),
  inServiceOn: inVehicles('date', 'in_service_on'),
  watchedFromOn: inVehicles('date', 'watched_from_on'),
  watchedFromKm: inVehicles('distance', 'watched_from_km'),
  history: inVehicles('words', 'history'),
  duty: inVehicles('words', 'duty'),
  value: inVehicles('number', 'value'),
  customer: inVehicles('text', 'customer'),
  contact: inVehicles('text', 'contact'),
  acquiredOn: inVehicles('date', 'acquired_on'),
  acquiredFrom: inVehicles('text', 'acquired_from'),
  purchasePrice: inVehicles('number', 'purchase_price'),
  prepCost: inVehicles('number', 'prep_cost'),
  askingPrice: inVehicles('number', 'asking_price'),
  soldOn: inVehicles('date', 'sold_on'),
  coverUntilOn: inVehicles('date', 'cover_until_on'),
  coverUntilKm: inVehicles('distance', 'cover_until_km'),
  work: inRepairs('work', 'weak_point'),
  action: inRepairs('words', 'action'),
  positions: inRepairs('text', 'positions'),
  found: inRepairs('words', 'found'),
  because: inRepairs('words', 'because'),
  revision: inRepairs('text', 'revision'),
  partsCost: inRepairs('number', 'parts_cost'),
  labourHours: inRepairs('number', 'labour_hours'),
  paidBy: inRepairs('words', 'paid_by'),
  supplier: { reads: 'text', fills: { repairs: 'supplier', parts: 'supplier' } },
  batch: inRepairs('text', 'batch'),
  codes: { reads: 'codes', fills: { codes: 'code' } },
  codeState: { reads: 'words', fills: { codes: 'state' } },
  lamp: { reads: 'words', fills: { codes: 'lamp' } },
  clearedOn: { reads: 'date', fills: { codes: 'cleared_on' } },
  signs: { reads: 'words', fills: { checks: 'seen' } },
  lookKind: { reads: 'words', fills: { checks: 'kind' } },
  kmSinceCleared: { reads: 'distance', fills: { checks: 'km_since_cleared' } },
  change: { reads: 'words', fills: { changes: 'kind' } },
  engineKm: { reads: 'distance', fills: { changes: 'engine_km' } },
  offsetKm: { reads: 'distance', fills: { changes: 'offset_km' } },
  ref: {
    reads: 'text',
    fills: { readings: 'ref', codes: 'ref', checks: 'ref', repairs: 'ref', changes: 'ref' },
  },
  part: inParts('text', 'part'),
  onHand: inParts('number', 'on_hand'),
  onOrder: inParts('number', 'on_order'),
  dueOn: inParts('date', 'due_on'),
  leadDays: inParts('number', 'lead_days'),
  partPrice: inParts('number', 'price'),
  /** Kept word for word beside the record. */
  note: { reads: 'text', fills: {} },
  leftOut: { reads: 'text', fills: {} },
} as const satisfies Record<string, MeaningOf>

export type Meaning = keyof typeof MEANINGS
export const MEANING_KEYS = Object.keys(MEANINGS) as [Meaning, ...Meaning[]]

export const DATE_ORDERS = ['iso', 'day-first', 'month-first'] as const
/** Which of the three stands first where a date is written with figures alone. */
export type DateOrder = (typeof DATE_ORDERS)[number]

const columnMapping = z.object({
  meaning: z.enum(MEANING_KEYS),
  /** Decided once a column; dates that the workbook holds as dates need none. */
  order: z.enum(DATE_ORDERS).nullable().default(null),
  /**
   * What parts the whole from the rest: `84.210` is 84,210 with a comma, and 84.21 with a point. Null where nobody has
   * said: then three figures behind one mark are thousands.
   */
  decimal: z.enum(['point', 'comma']).nullable().default(null),
  distance: z.enum(['km', 'mi']).default('km'),
})
export type ColumnMapping = z.output<typeof columnMapping>

/** What looks say of signs that are not written down; which of several parts; which version: null until answered. */
export const answersSchema = z.object({
  /** `all`: every sign of the kind was looked for; `written`: only what is written was looked at. */
  looksCover: z.enum(['all', 'written']).nullable().default(null),
  /** Of several alike, where no position is written: all of them, or one of which nobody knows which. */
  whichOfSeveral: z.enum(['all', 'one-unknown']).nullable().default(null),
  /** The version of a replaced part, where none is written: the original, or not known. */
  partVersion: z.enum(['original', 'unknown']).nullable().default(null),
  /** What is known of the time before a vehicle's first record. */
  before: z.enum(['full', 'none']).nullable().default(null),
  /** `installation`: the odometer counts from the day on which something was fitted, and not from new. */
  odometerFrom: z.enum(['new', 'installation']).nullable().default(null),
})
export type Answers = z.output<typeof answersSchema>

const sheetMapping = z.object({
  /** What its rows tell of; none: the sheet is left out. */
  tells: z.array(z.enum(ROW_KINDS as [RowKind, ...RowKind[]])),
  /** The row of the sheet (1 is its first) that names the columns; null where none does: then the first row is data. */
  headerRow: z.number().int().min(1).nullable(),
  /** By the key of the column (`profile`): what it is. */
  columns: z.record(z.string(), columnMapping),
  /** The day of every row, where no column says one; ISO 8601. */
  date: z.iso.date().nullable().default(null),
  answers: answersSchema.prefault({}),
})
export type SheetMapping = z.output<typeof sheetMapping>

/** What a phrase of a free text stands for, in each engine family that has it. */
const tie = z.object({
  /** Weak point by family; a family that is not named has nothing of the kind: kept beside, without effect. */
  weakPoints: z.record(z.string(), z.string()),
  action: z.enum(['renew', 'partial', 'temporary', 'inspect']),
  found: z.enum(['failed', 'developing', 'sound', '']).default(''),
  /** `number`: the figure in the phrase; else `all`, positions separated by spaces, or blank. */
  positions: z.string().default(''),
})
export type Tie = z.output<typeof tie>

/** Whether a phrase stands for anything: one that somebody untied is remembered as tied to nothing. */
export const isTied = (tie: Tie | undefined): boolean =>
  tie !== undefined && Object.keys(tie.weakPoints).length > 0

export const mappingSchema = z.object({
  /** By the name of the sheet. */
  sheets: z.record(z.string(), sheetMapping),
  /**
   * What words stand for, by meaning and by the words as `wordKey` writes them: a key of the library or a word of ours;
   * an engine may be `family/variant`; signs are keys with blanks between them. Blank: it stands for nothing.
   */
  values: z.partialRecord(z.enum(MEANING_KEYS), z.record(z.string(), z.string())).default({}),
  /** What phrases of free text stand for, by `phraseKey`. */
  work: z.record(z.string(), tie).default({}),
})
/** All of it; remembered by source, and used again when a workbook of the same columns comes. */
export type Mapping = z.output<typeof mappingSchema>

/** Words as they are compared: small letters, one blank between them. */
export const wordKey = (text: string): string => text.trim().toLowerCase().replace(/\s+/g, ' ')

/** A phrase as it is compared: its figures are one `#`, so that "inj 3" and "inj 1" are tied once. */
export const phraseKey = (phrase: string): string => wordKey(phrase).replace(/\d+/g, '#')

/** What was said of a word: words are anybody's, so that what every object has by nature is not taken for an answer. */
export const saidOf = <Value>(
  said: Partial<Record<string, Value>> | undefined,
  word: string,
): Value | undefined => (said && Object.hasOwn(said, word) ? said[word] : undefined)
