import type { Records } from '@/lib/records/rows'
import type { Entry, EntryCounts } from '../entry'
import { addRecordRows } from '../inner/add-record-rows'
import { addVehicles } from '../inner/add-vehicles'
import type { RecordKind } from '../inner/record-tables'
import { touchVehicles } from '../inner/touch-vehicles'
import type { OrganisationScope } from '../with-organisation'

/** What became of the rows that were given, and the numbers of the vehicles that it touches. */
export type AddedRecords = { counts: Record<'vehicles' | RecordKind, EntryCounts>; touched: string[] }

/**
 * Adds vehicles and their records in the order in which they come. What is there already, column for column, is left
 * as it is, so that the same folder may be brought in twice. A row whose `ref` is there with other contents takes the
 * place of the earlier one; a vehicle that is there takes over the cells that are not blank.
 */
export async function addRecords(
  scope: OrganisationScope,
  records: Omit<Records, 'settings'>,
  entry: Entry,
): Promise<AddedRecords> {
  const vehicles = await addVehicles(scope, records.vehicles, entry)
  const readings = await addRecordRows(scope, 'readings', records.readings, entry)
  const codes = await addRecordRows(scope, 'codes', records.codes, entry)
  const checks = await addRecordRows(scope, 'checks', records.checks, entry)
  const repairs = await addRecordRows(scope, 'repairs', records.repairs, entry)
  const changes = await addRecordRows(scope, 'changes', records.changes, entry)
  const added = { vehicles, readings, codes, checks, repairs, changes }
  const touched = [...new Set(Object.values(added).flatMap((each) => each.touched))]
  await touchVehicles(scope, touched)
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
