import type { Records } from '@/lib/records/rows'
import type { Entry, EntryCounts } from '../entry'
import { addRecordRows } from '../inner/add-record-rows'
import { addVehicles } from '../inner/add-vehicles'
import type { RecordKind } from '../inner/record-tables'
import { touchVehicles } from '../inner/touch-vehicles'
import type { OrganisationScope } from '../with-organisation'

/** What became of the rows that were given, and the numbers of the vehicles that it touches. */
export type AddedRecords = { counts: Record<'vehicles' | RecordKind, EntryCounts>; touched: string[] }

/** Rows of any kinds. */
type Rows = Omit<Records, 'settings'>

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
  const added = await addRows(scope, records, entry)
  await touchVehicles(scope, added.touched)
  return added
}

/**
 * The same for so many rows that they come in parts, none of them of vehicles that are there already but the first.
 * Their vehicles are touched once, at the end: part after part, in whatever order they are named, two transactions
 * could each hold what the other waits for.
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
  const touched = new Set<string>()
  for (const part of parts) {
    const added = await addRows(scope, part, entry)
    for (const unit of added.touched) touched.add(unit)
    await onAdded(added)
  }
  await touchVehicles(scope, [...touched])
  return touched
}

async function addRows(scope: OrganisationScope, records: Rows, entry: Entry): Promise<AddedRecords> {
  const vehicles = await addVehicles(scope, records.vehicles, entry)
  const readings = await addRecordRows(scope, 'readings', records.readings, entry)
  const codes = await addRecordRows(scope, 'codes', records.codes, entry)
  const checks = await addRecordRows(scope, 'checks', records.checks, entry)
  const repairs = await addRecordRows(scope, 'repairs', records.repairs, entry)
  const changes = await addRecordRows(scope, 'changes', records.changes, entry)
  const added = { vehicles, readings, codes, checks, repairs, changes }
  const touched = [...new Set(Object.values(added).flatMap((each) => each.touched))]
  const counts = {
    vehicles: vehicles.counts,
    readings: readings.counts,
    codes: codes.counts,
    checks: checks.counts,
    repairs: repairs.counts,
    changes: changes.counts,
  }
  return { counts, touched }
}
