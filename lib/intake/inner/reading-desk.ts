import type { z } from 'zod'
import type { Day } from '@/lib/units/dates'
import { countByMonth, inOrder, rowsByMonth } from '../months'
import type { GivenTable, Ground, LargeFile, LargeTable, Part, TableOutcome, TableRead } from '../table-read'
import { noRecords, type RecordLists, TABLES, type TableKind } from '../tables'
import { AcceptedRows, type Kept } from './accepted-rows'
import { checkCheck, checkCode, checkRepair, checkVehicle, defaultedFields } from './check-rows'
import { type KnownFamily, KnownUnits, knownFamilies } from './known-names'
import { unknownCodes, vehicleNotices } from './notices'
import { readObjects } from './read-objects'
import { readTable, readTableByRows, type Taker } from './read-table'
import { asRead, ofKnown, type RowRules, rowTaker } from './row-taker'

/** Where files are read one after the other, each against the vehicles of those before it. */
export class ReadingDesk {
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
