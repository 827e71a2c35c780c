import { setImmediate as nextTurn } from 'node:timers/promises'
import type { Records } from '@/lib/records/rows'
import type { Entry, EntryCounts } from '../entry'
import { addRecordRows, countRecordRows, type RowsAdded, readHashesThere } from '../inner/add-record-rows'
import { addVehicles } from '../inner/add-vehicles'
import { RECORD_KINDS, type RecordKind } from '../inner/record-tables'
import { SeenHashes } from '../inner/seen-hashes'
import { touchVehicles } from '../inner/touch-vehicles'
import type { OrganisationScope } from '../with-organisation'

/** What became of the rows that were given, and the numbers of the vehicles that it touches. */
export type AddedRecords = { counts: Record<'vehicles' | RecordKind, EntryCounts>; touched: string[] }

/** Rows of any kinds. */
type Rows = Omit<Records, 'settings'>

/** Of each kind, the rows that came before in the same piece of work. */
type Seen = Record<RecordKind, SeenHashes>

const nothingSeen = () =>
  Object.fromEntries(RECORD_KINDS.map((kind) => [kind, new SeenHashes()])) as unknown as Seen

/**
 * Adds vehicles and their records in the order in which they come. What is there already, column for column, is left
 * as it is, so that the same folder may be brought in twice. A row whose `ref` is there with other contents takes the
 * place of the earlier one; a vehicle that is there takes over the cells that are not blank.
 */
export async function addRecords(
  scope: OrganisationScope,
  records: Rows,
  entry: Entry,
): Promise<AddedRecords> {
  const rows = RECORD_KINDS.reduce((sum, kind) => sum + records[kind].length, 0)
  if (rows > PLANNED_ONCE) await planEachTime(scope)
  const added = await addRows(scope, records, entry, nothingSeen())
  await touchVehicles(scope, added.touched)
  return added
}

/**
 * The same for so many rows that they come in parts, none of them of vehicles that are there already but the first.
 * Their vehicles are touched once, at the end: part after part, in whatever order they are named, two transactions
 * could each hold what the other waits for. While the database takes in a part, the next one is read.
 *
 * @param onAdded told of each part, in their order
 * @returns the numbers of the vehicles that it touches
 */
export async function addInParts(
  scope: OrganisationScope,
  parts: Iterable<Rows>,
  entry: Entry,
  onAdded: (added: AddedRecords) => Promise<void>,
): Promise<Set<string>> {
  await planEachTime(scope)
  const seen = nothingSeen()
  const touched = await eachInTurn(parts, (part) => addRows(scope, part, entry, seen), onAdded)
  await touchVehicles(scope, [...touched])
  return touched
}

/** What that would do, for records without a `ref` of vehicles that are there; nothing is written. */
export async function countInParts(
  scope: OrganisationScope,
  parts: Iterable<Rows>,
  onCounted: (counted: AddedRecords) => Promise<void>,
): Promise<Set<string>> {
  // The promise is kept, not what it brings: the next part is begun before it has brought anything.
  const there: Partial<Record<RecordKind, Promise<SeenHashes>>> = {}
  const count = async (part: Rows): Promise<AddedRecords> => {
    if (part.vehicles.length > 0) throw new Error('Vehicles are not counted: other rows speak of them')
    const counted = nothingAdded()
    for (const kind of RECORD_KINDS) {
      if (part[kind].length === 0) continue
      there[kind] ??= readHashesThere(scope, kind)
      counted[kind] = countRecordRows(part[kind], await there[kind])
    }
    return together(NO_ROWS, counted)
  }
  return eachInTurn(parts, count, onCounted)
}

const NO_ROWS: RowsAdded = { counts: { accepted: 0, unchanged: 0, superseded: 0 }, touched: [] }

const nothingAdded = () =>
  Object.fromEntries(RECORD_KINDS.map((kind) => [kind, NO_ROWS])) as unknown as Record<RecordKind, RowsAdded>

/** Fewer rows go in before it matters how. */
const PLANNED_ONCE = 1000

/**
 * A plan that was made while a table was nearly empty would read all of it for every row of the parts that follow.
 */
const planEachTime = ({ tx }: OrganisationScope) =>
  tx.$executeRaw`set local plan_cache_mode = force_custom_plan`

/**
 * Has each part done after the one before it; while the database has one, the next is read and written down for it. What
 * is asked of one transaction at once is done in its order.
 */
async function eachInTurn(
  parts: Iterable<Rows>,
  work: (part: Rows) => Promise<AddedRecords>,
  onDone: (done: AddedRecords) => Promise<void>,
): Promise<Set<string>> {
  const touched = new Set<string>()
  const whole = async (part: Rows) => {
    const done = await work(part)
    for (const unit of done.touched) touched.add(unit)
    await onDone(done)
  }
  let [before, underWay] = [Promise.resolve(), Promise.resolve()]
  try {
    for (const part of parts) {
      await before
      before = underWay
      underWay = whole(part)
      underWay.catch(() => {}) // it is heard where it is waited for
      await nextTurn() // so that the database has it before the next one is read
    }
  } finally {
    await Promise.allSettled([before, underWay])
  }
  await before
  await underWay
  return touched
}

async function addRows(
  scope: OrganisationScope,
  records: Rows,
  entry: Entry,
  seen: Seen,
): Promise<AddedRecords> {
  const vehicles = await addVehicles(scope, records.vehicles, entry)
  return together(vehicles, {
    readings: await addRecordRows(scope, 'readings', records.readings, entry, seen.readings),
    codes: await addRecordRows(scope, 'codes', records.codes, entry, seen.codes),
    checks: await addRecordRows(scope, 'checks', records.checks, entry, seen.checks),
    repairs: await addRecordRows(scope, 'repairs', records.repairs, entry, seen.repairs),
    changes: await addRecordRows(scope, 'changes', records.changes, entry, seen.changes),
  })
}

function together(vehicles: RowsAdded, records: Record<RecordKind, RowsAdded>): AddedRecords {
  const { readings, codes, checks, repairs, changes } = records
  return {
    touched: [...new Set([vehicles, ...Object.values(records)].flatMap((each) => each.touched))],
    counts: {
      vehicles: vehicles.counts,
      readings: readings.counts,
      codes: codes.counts,
      checks: checks.counts,
      repairs: repairs.counts,
      changes: changes.counts,
    },
  }
}
