import type { Records } from '@/lib/records/rows'
import type { Database } from '@/lib/store/database'
import type { Entry } from '@/lib/store/entry'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type AddedRecords, addRecords } from '@/lib/store/write/add-records'
import { changeRecords } from './change-records'
import type { VehicleChange } from './vehicle-change'

/**
 * Enters records in one transaction. Where few vehicles are touched they are scored right after it; the others are
 * stale until the background has come to them.
 *
 * @returns what became of the rows, and of the scores of the vehicles that were scored at once
 */
export async function enterRecords(
  database: Database,
  organisation: OrganisationId,
  records: Omit<Records, 'settings'>,
  entry: Entry,
): Promise<AddedRecords & { vehicles: VehicleChange[] }> {
  const add = (scope: Parameters<typeof addRecords>[0]) => addRecords(scope, records, entry)
  const { result, vehicles } = await changeRecords(database, organisation, add, entry.now)
  return { ...result, vehicles }
}
