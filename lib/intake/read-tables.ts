import type { z } from 'zod'
import type { Library } from '@/lib/records/library'
import type { Day } from '@/lib/units/dates'
import type { Notice, RejectedRow } from './findings'
import type { Kept } from './inner/accepted-rows'
import { checkCheck, checkCode, checkRepair, checkVehicle } from './inner/check-rows'
import type { Heading } from './inner/find-header'
import { type KnownFamily, KnownUnits, knownFamilies } from './inner/known-names'
import { unknownCodes, vehicleNotices } from './inner/notices'
import { readTable } from './inner/read-table'
import { asRead, ofKnown, type RowRules, rowTaker } from './inner/row-taker'
import { noRecords, type RecordLists, TABLE_KINDS, TABLES, type TableKind } from './tables'

/** One file of rows: what it is called, what it holds, and its bytes. */
export interface GivenTable {
  name: string
  kind: TableKind
  bytes: Uint8Array
}

/** What rows are read against. */
export interface Ground {
  /** The knowledge that names in the rows refer to. */
  library: Library
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
  /** What heads its rows; null where they could not be read. */
  heading: Heading | null
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
    const taken: Taken = { table, today: this.ground.today, rejected: [], notices: [], heading: null }
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
    const { rejected, notices, heading } = taken
    return { name, kind, records, rejected, notices, heading }
  }

  private readVehicles(taken: Taken): RecordLists['vehicles'] {
    const vehicles = takeIn(taken, {
      schema: TABLES.vehicles,
      oncePerUnit: true,
      check: (row) => checkVehicle(row, this.families.get(row.family) ?? null),
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
interface Taken extends Pick<TableRead, 'rejected' | 'notices' | 'heading'> {
  table: GivenTable
  today: Day
}

/** The rows of one file that go in. */
function takeIn<Schema extends z.ZodObject, Row extends Kept>(
  taken: Taken,
  rules: Omit<RowRules<Schema, Row>, 'today'>,
): Row[] {
  const { rejected, notices } = taken
  const { name, bytes } = taken.table
  const { take, accepted } = rowTaker({ ...rules, today: taken.today })
  taken.heading = readTable(
    { file: name, bytes },
    {
      schema: rules.schema,
      take,
      reject: (row) => rejected.push(row),
      notice: (notice) => notices.push(notice),
    },
  )
  notices.push(...accepted.notices().map((message) => ({ file: name, line: null, message })))
  return accepted.list()
}
