import type { z } from 'zod'
import type { Library } from '@/lib/records/library'
import type { DefaultedField } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import type { Notice, RejectedRow } from './findings'
import type { Kept } from './inner/accepted-rows'
import { checkCheck, checkCode, checkRepair, checkVehicle, defaultedFields } from './inner/check-rows'
import type { Heading } from './inner/find-header'
import { type KnownFamily, KnownUnits, knownFamilies } from './inner/known-names'
import { unknownCodes, vehicleNotices } from './inner/notices'
import { readObjects } from './inner/read-objects'
import { readTable, type Taker } from './inner/read-table'
import { asRead, ofKnown, type RowRules, rowTaker } from './inner/row-taker'
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

/** What came of one file. */
export interface TableRead {
  name: string
  kind: TableKind
  /** The rows that may go in; the lists of other kinds are empty. */
  records: RecordLists
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
}

/**
 * Reads files of rows: vehicles first, whatever their order, because the others speak of them. Every row may go in, or
 * is rejected with its line, column and reason. A file that cannot be read is one rejected line.
 *
 * @returns what came of each file, in the order in which they go in.
 */
export function readTables(given: readonly GivenTable[], ground: Ground): TableRead[] {
  const desk = new Desk(ground)
  return TABLE_KINDS.flatMap((kind) =>
    given.filter((table) => table.kind === kind).map((table) => desk.read(table)),
  )
}

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
    const { table: _, today: __, ...outcome } = taken
    return { name, kind, records, ...outcome }
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
    taken.notices.push(...unknownCodes(taken.table.name, codes, this.units))
    return codes
  }

  private know({ unit, family }: { unit: string; family: string }): void {
    this.units.add({ unit, family: this.families.get(family) ?? null })
  }
}

/** A file, and where what comes of it goes. */
interface Taken extends Omit<TableRead, 'name' | 'kind' | 'records'> {
  table: GivenTable
  today: Day
}

/** The rows of one file that go in. */
function takeIn<Schema extends z.ZodObject, Row extends Kept>(
  taken: Taken,
  rules: Omit<RowRules<Schema, Row>, 'today' | 'placeOf'>,
): Row[] {
  const { table, today, rejected, notices } = taken
  const { name: file } = table
  const inFile = 'bytes' in table
  const { take, accepted } = rowTaker({ ...rules, today, placeOf: inFile ? onLine : atIndex })
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

const onLine = (line: number) => `on line ${line}`
const atIndex = (line: number) => `at index ${line - 1}`
