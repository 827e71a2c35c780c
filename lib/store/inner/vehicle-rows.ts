import type { VehicleRow } from '@/lib/records/rows'
import type { Entry } from '../entry'
import type { OrganisationScope } from '../with-organisation'
import { columnsOf, selection } from './columns'
import { ENTRY_COLUMNS, entryFields } from './entry-columns'
import { columnArrays, inChunks, insertRows, sqlParts } from './insert-rows'
import { newId } from './new-id'
import { VEHICLE_COLUMNS } from './record-tables'

/** A vehicle's row, and whether it still counts. */
export type StoredVehicle = { id: string; withdrawn: boolean; row: VehicleRow }

/** A row that takes the place of the one that a vehicle has; `before` is kept, null where it was withdrawn. */
export type VehicleChange = { id: string; before: VehicleRow | null; row: VehicleRow }

const ID = columnsOf<{ id: string }>({ id: 'uuid' })
const NUMBER = columnsOf<{ number: string }>({ number: 'text' }, { number: 'unit' })
const VERSION = columnsOf<{
  id: string
  vehicleId: string
  before: VehicleRow | null
  replacedAt: Date
  replacedBy: string | null
  intakeId: string | null
}>({
  id: 'uuid',
  vehicleId: 'uuid',
  before: 'json',
  replacedAt: 'instant',
  replacedBy: 'uuid',
  intakeId: 'uuid',
})

/** The vehicles of these numbers, held until the end of the transaction as in `hold-in-order`. */
export async function holdVehicles(scope: OrganisationScope, units: string[]): Promise<StoredVehicle[]> {
  const found = await scope.tx.$queryRawUnsafe<(VehicleRow & { vehicleId: string; withdrawn: boolean })[]>(
    `select id::text as "vehicleId", withdrawn_at is not null as withdrawn, unit, ${selection(VEHICLE_COLUMNS, 'vehicles')}
     from vehicles where unit = any($1::text[]) order by id for no key update`,
    units,
  )
  return found.map(({ vehicleId, withdrawn, ...row }) => ({ id: vehicleId, withdrawn, row }))
}

/** Vehicles that are not there yet, in their order. */
export function insertVehicles(scope: OrganisationScope, rows: VehicleRow[], entry: Entry): Promise<void> {
  return insertRows(
    scope,
    {
      name: 'vehicles',
      columns: [...ENTRY_COLUMNS, ...NUMBER, ...VEHICLE_COLUMNS],
      onConflict: 'on conflict (organisation_id, unit) do nothing',
    },
    rows.map((row) => ({ ...row, ...entryFields(entry), id: newId(entry.now), number: row.unit })),
  )
}

/** Puts rows in the place of those that vehicles have, and keeps these as versions. */
export async function replaceVehicleRows(
  scope: OrganisationScope,
  changes: VehicleChange[],
  entry: Pick<Entry, 'now' | 'by' | 'intake'>,
): Promise<void> {
  const { now, by, intake = null } = entry
  const versions = changes.map(({ id: vehicleId, before }) => ({
    ...{ id: newId(now), vehicleId, before },
    ...{ replacedAt: now, replacedBy: by, intakeId: intake },
  }))
  await insertRows(scope, { name: 'vehicle_versions', columns: VERSION }, versions)

  const columns = [...ID, ...VEHICLE_COLUMNS]
  const { types, aliases } = sqlParts(columns, 2)
  const assignments = VEHICLE_COLUMNS.map(({ name, write }, i) => `"${name}" = ${write(`given.c${i + 1}`)}`)
  const sql = `
    update vehicles set ${assignments.join(', ')}, withdrawn_at = null, withdrawn_by = null
    from unnest(${types}) as given(${aliases})
    where vehicles.organisation_id = $1::uuid and vehicles.id = given.c0::uuid`
  await inChunks(changes, async (chunk) => {
    const rows = chunk.map(({ id, row }) => ({ ...row, id }))
    await scope.tx.$executeRawUnsafe(sql, scope.organisation, ...columnArrays(columns, rows))
  })
}
