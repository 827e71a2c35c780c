import type { Records } from '@/lib/records/rows'
import { columnsOf } from '../inner/columns'
import { contentHash } from '../inner/content-hash'
import { insertOnVehicles, insertRows } from '../inner/insert-rows'
import { newId } from '../inner/new-id'
import { RECORD_COLUMNS, RECORD_KINDS, type RecordKind, VEHICLE_COLUMNS } from '../inner/record-tables'
import type { OrganisationScope } from '../with-organisation'

/** How many rows of each kind are new; the others were there already. */
export type AddedRecords = Record<'vehicles' | RecordKind, number>

const ENTRY = columnsOf<{ id: string; enteredAt: Date }>({ id: 'uuid', enteredAt: 'instant' })
const CONTENT_HASH = columnsOf<{ contentHash: string }>({ contentHash: 'hex' })
const NUMBER = columnsOf<{ number: string }>({ number: 'text' }, { number: 'unit' })

/**
 * Adds vehicles and their records in the order in which they come. What is there already, column for column, is left
 * as it is, so that the same folder may be brought in twice.
 *
 * @param now when they are entered
 */
export async function addRecords(
  scope: OrganisationScope,
  records: Records,
  now: Date,
): Promise<AddedRecords> {
  const entry = () => ({ id: newId(now), enteredAt: now })
  const added: AddedRecords = { vehicles: 0, readings: 0, codes: 0, checks: 0, repairs: 0, changes: 0 }
  added.vehicles = await insertRows(
    scope,
    {
      name: 'vehicles',
      columns: [...ENTRY, ...NUMBER, ...VEHICLE_COLUMNS],
      onConflict: 'on conflict (organisation_id, unit) do nothing',
    },
    records.vehicles.map((row) => ({ ...row, ...entry(), number: row.unit })),
  )
  for (const kind of RECORD_KINDS)
    added[kind] = await insertOnVehicles(
      scope,
      {
        name: kind,
        columns: [...ENTRY, ...CONTENT_HASH, ...RECORD_COLUMNS[kind]],
        onConflict: `on conflict (organisation_id, content_hash)
          where superseded_at is null and withdrawn_at is null do nothing`,
      },
      records[kind].map((row) => ({ ...row, ...entry(), contentHash: contentHash(row) })),
    )
  return added
}
