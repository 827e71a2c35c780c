import type { z } from 'zod'
import type { Library } from '@/lib/records/library'
import type { DefaultedField } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import type { Notice, RejectedRow } from './findings'
import { AcceptedRows, type Kept } from './inner/accepted-rows'
import { checkCheck, checkCode, checkRepair, checkVehicle, defaultedFields } from './inner/check-rows'
import { columnsOfFile, type Heading } from './inner/find-header'
import { type KnownFamily, KnownUnits, knownFamilies } from './inner/known-names'
import { unknownCodes, vehicleNotices } from './inner/notices'
import { readObjects } from './inner/read-objects'
import { readTable, readTableByRows, type Taker } from './inner/read-table'
import { asRead, ofKnown, type RowRules, rowTaker } from './inner/row-taker'
import { countByMonth, inOrder, type RowsByMonth, rowsByMonth } from './months'
import { noRecords, type RecordLists, TABLE_KINDS, TABLES, type TableKind } from './tables'

/** Rows of one kind under a name: the bytes of a file, or JSON objects with its columns (the first is line 1). */
export type GivenTable = { name: string; kind: TableKind } & (
  | { bytes: Uint8Array }
  | { objects: readonly unknown[] }
)

/** What rows are read against. */
export interface Ground {
  /** The knowledge that names in the rows refer to. */
  library: Pick<Library, 'families'>
  /** Rows dated later are rejected. */
  today: Day
  /** Vehicles that rows may speak of besides those of the files. */
  standing?: Iterable<{ unit: string; family: string }>
}

/** What came of one file, besides its rows. */
export interface TableOutcome {
  rejected: RejectedRow[]
  notices: Notice[]
  /** What heads its rows; null where they could not be read, and for objects. */
  heading: Heading | null
  /** Vehicles, by unit, with the fields that were blank where blank means something: there, what stands is left. */
  defaulted: Map<string, Set<DefaultedField>>
  /** Rows that repeat another of the same file: that one counts. */
  duplicates: number
  /** Rows whose `ref` a later row of the same file has: that one counts. */
  replaced: number
  /** How many rows of records lie in which month. */
  months: RowsByMonth
}

/** A file that was read. */
export interface TableRead extends TableOutcome {
  name: string
  kind: TableKind
  /** The rows that may go in; the lists of other kinds are empty. */
  records: RecordLists
}

/** Rows of a large file, and the share of it that has been read with them. */
export type Part = { records: RecordLists; share: number }

/** A file of records so large that its rows are never there all together. */
export interface LargeTable {
  name: string
  kind: RecordTable
  /** Reads it from its beginning; what came of it is known at its end. Rows that repeat others are among them. */
  parts(rowsAtOnce: number): Generator<Part, TableOutcome, undefined>
}

type RecordTable = Exclude<TableKind, 'vehicles'>

/**
 * Reads files of rows: vehicles first, whatever their order, because the others speak of them. Every row may go in, or
 * is rejected with its line, column and reason. A file that cannot be read is one rejected line.
 *
 * @returns what came of each file, in the order in which they go in.
 */
export function readTables(given: readonly GivenTable[], ground: Ground): TableRead[] {
  const desk = new Desk(ground)
  return inOrderOfKinds(given).map((table) => desk.read(table))
}

/** The same where large files of records are only opened, to be read while their rows go in. */
export function openTables(
  given: readonly GivenTable[],
  ground: Ground,
  largeFromBytes = LARGE_FROM_BYTES,
): { tables: TableRead[]; large: LargeTable[] } {
  const desk = new Desk(ground)
  const files = inOrderOfKinds(given)
  const isLarge = (table: GivenTable): table is LargeFile => isLargeFile(table, largeFromBytes)
  return {
    tables: files.filter((table) => !isLarge(table)).map((table) => desk.read(table)),
    large: files.filter(isLarge).map((table) => desk.open(table)),
  }
}

const inOrderOfKinds = (given: readonly GivenTable[]): GivenTable[] =>
  TABLE_KINDS.flatMap((kind) => given.filter((table) => table.kind === kind))

/** As many rows as this holds are there at once without harm. */
const LARGE_FROM_BYTES = 4_000_000

type LargeFile = { name: string; kind: RecordTable; bytes: Uint8Array }

/** Rows with a `ref` may take the place of rows before them: those are read together. */
const isLargeFile = (table: GivenTable, fromBytes: number): table is LargeFile =>
  'bytes' in table &&
  table.kind !== 'vehicles' &&
  table.bytes.length >= fromBytes &&
  !columnsOfFile(table.bytes, TABLES[table.kind]).includes('ref')

/** Where files are read one after the other, each against the vehicles of those before it. */
class Desk {
  private readonly families: Map<string, KnownFamily>
  private readonly units = new KnownUnits()

  constructor(private readonly ground: Ground) {
    this.families = knownFamilies(ground.library)
    for (const vehicle of ground.standing ?? []) this.know(vehicle)
  }

  read(table: GivenTable): TableRead {
    const taken = this.begin(table)
    const { units } = this
    const readers: { [Kind in TableKind]: () => RecordLists[Kind] } = {
      vehicles: () => this.readVehicles(taken),
      readings: () => takeIn(taken, { schema: TABLES.readings, check: ofKnown(units, asRead) }),
      codes: () => this.readCodes(taken),
      checks: () => takeIn(taken, { schema: TABLES.checks, check: ofKnown(units, checkCheck) }),
      repairs: () => takeIn(taken, { schema: TABLES.repairs, check: ofKnown(units, checkRepair) }),
      changes: () => takeIn(taken, { schema: TABLES.changes, check: ofKnown(units, asRead) }),
    }
    const { name, kind } = table
    const records = { ...noRecords(), [kind]: readers[kind]() }
    return { name, kind, records, ...outcomeOf(taken), months: rowsByMonth(records) }
  }

  open(table: LargeFile): LargeTable {
    const { name, kind } = table
    return { name, kind, parts: (rowsAtOnce) => this.parts(table, rowsAtOnce) }
  }

  private *parts(table: LargeFile, rowsAtOnce: number): Generator<Part, TableOutcome, undefined> {
    const { units } = this
    const taken = this.begin(table)
    const taking = { taken, rowsAtOnce }
    const readers = {
      readings: () => takeInParts(taking, { schema: TABLES.readings, check: ofKnown(units, asRead) }),
      codes: () => takeInParts(taking, { schema: TABLES.codes, check: ofKnown(units, checkCode) }),
      checks: () => takeInParts(taking, { schema: TABLES.checks, check: ofKnown(units, checkCheck) }),
      repairs: () => takeInParts(taking, { schema: TABLES.repairs, check: ofKnown(units, checkRepair) }),
      changes: () => takeInParts(taking, { schema: TABLES.changes, check: ofKnown(units, asRead) }),
    }
    const months = new Map<string, number>()
    const codes = unknownCodes(units)
    for (const { rows, share } of readers[table.kind]()) {
      const records = { ...noRecords(), [table.kind]: rows }
      countByMonth(records, months)
      codes.see(records.codes)
      yield { records, share }
    }
    const { notices, ...outcome } = outcomeOf(taken)
    return { ...outcome, notices: [...notices, ...codes.say(table.name)], months: inOrder(months) }
  }

  private begin(table: GivenTable): Taken {
    const { today } = this.ground
    return {
      table,
      today,
      rejected: [],
      notices: [],
      heading: null,
      defaulted: new Map(),
      duplicates: 0,
      replaced: 0,
    }
  }

  private readVehicles(taken: Taken): RecordLists['vehicles'] {
    const vehicles = takeIn(taken, {
      schema: TABLES.vehicles,
      oncePerUnit: true,
      check: (row) => {
        taken.defaulted.set(row.unit, defaultedFields(row))
        return checkVehicle(row, this.families.get(row.family) ?? null)
      },
    })
    for (const vehicle of vehicles) {
      this.know(vehicle)
      taken.notices.push(...vehicleNotices(taken.table.name, vehicle, this.families))
    }
    return vehicles
  }

  private readCodes(taken: Taken): RecordLists['codes'] {
    const codes = takeIn(taken, { schema: TABLES.codes, check: ofKnown(this.units, checkCode) })
    const unknown = unknownCodes(this.units)
    unknown.see(codes)
    taken.notices.push(...unknown.say(taken.table.name))
    return codes
  }

  private know({ unit, family }: { unit: string; family: string }): void {
    this.units.add({ unit, family: this.families.get(family) ?? null })
  }
}

/** A file, and where what comes of it goes. */
interface Taken extends Omit<TableOutcome, 'months'> {
  table: GivenTable
  today: Day
}

const outcomeOf = ({ table: _, today: __, ...outcome }: Taken): Omit<TableOutcome, 'months'> => outcome

/** The rows of one file that go in. */
function takeIn<Schema extends z.ZodObject, Row extends Kept>(
  taken: Taken,
  rules: Omit<RowRules<Schema, Row>, 'today' | 'placeOf'>,
): Row[] {
  const { table, today, rejected, notices } = taken
  const { name: file } = table
  const inFile = 'bytes' in table
  const accepted = new AcceptedRows<Row>()
  const take = rowTaker({ ...rules, today, placeOf: inFile ? onLine : atIndex }, accepted)
  const taker: Taker<Schema> = {
    schema: rules.schema,
    take,
    reject: (row) => rejected.push(row),
    notice: (notice) => notices.push(notice),
  }
  if (inFile) taken.heading = readTable({ file, bytes: table.bytes }, taker)
  else readObjects({ file, objects: table.objects }, taker)
  notices.push(...accepted.notices().map((message) => ({ file, line: null, message })))
  taken.duplicates = accepted.duplicates
  taken.replaced = accepted.replaced
  return accepted.list()
}

/** The rows of one large file that go in, so many at a time; doubles are left to whoever takes them in. */
function* takeInParts<Schema extends z.ZodObject, Row extends Kept>(
  { taken, rowsAtOnce }: { taken: Taken; rowsAtOnce: number },
  rules: Omit<RowRules<Schema, Row>, 'today' | 'placeOf'>,
): Generator<{ rows: Row[]; share: number }, void, undefined> {
  const { table, today, rejected, notices } = taken
  if (!('bytes' in table)) throw new Error('Only a file is large')
  let rows: Row[] = []
  const accepted = { add: (row: Row) => rows.push(row), otherOf: () => null }
  const steps = readTableByRows(
    { file: table.name, bytes: table.bytes },
    {
      schema: rules.schema,
      take: rowTaker({ ...rules, today, placeOf: onLine }, accepted),
      reject: (row) => rejected.push(row),
      notice: (notice) => notices.push(notice),
    },
  )
  for (let step = steps.next(); ; step = steps.next()) {
    if (rows.length >= rowsAtOnce || step.done) {
      if (rows.length > 0) yield { rows, share: step.done ? 1 : step.value }
      rows = []
    }
    if (!step.done) continue
    taken.heading = step.value
    return
  }
}

const onLine = (line: number) => `on line ${line}`
const atIndex = (line: number) => `at index ${line - 1}`
