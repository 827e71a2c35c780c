import type { VehicleRow } from '@/lib/records/rows'
import { Prisma } from '@/prisma/client/client'
import { selection } from '../inner/columns'
import { VEHICLE_COLUMNS } from '../inner/record-tables'
import type { OrganisationScope } from '../with-organisation'

/** Which vehicles, in the order of their numbers; a filter that is left out takes everything. */
export type VehicleRowsQuery = {
  /** The number after which the list goes on. */
  after: string | null
  limit: number
  unit?: string
  family?: string
  site?: string
  status?: string
}

/** The rows of the vehicles that a query asks for, and where the list goes on. */
export async function readVehicleRows(
  { tx }: OrganisationScope,
  { after, limit, unit, family, site, status }: VehicleRowsQuery,
): Promise<{ vehicles: VehicleRow[]; next: string | null }> {
  const given = (value: string | null | undefined, condition: (value: string) => Prisma.Sql) =>
    value === undefined || value === null ? Prisma.sql`true` : condition(value)
  const found = await tx.$queryRaw<VehicleRow[]>`
    select vehicle.unit, ${Prisma.raw(selection(VEHICLE_COLUMNS, 'vehicle'))} from vehicles vehicle
    where vehicle.withdrawn_at is null
      and ${given(unit, (value) => Prisma.sql`vehicle.unit = ${value}`)}
      and ${given(family, (value) => Prisma.sql`vehicle.family = ${value}`)}
      and ${given(site, (value) => Prisma.sql`vehicle.site = ${value}`)}
      and ${given(status, (value) => Prisma.sql`vehicle.status = ${value}`)}
      and ${given(after, (value) => Prisma.sql`vehicle.unit collate "C" > ${value}`)}
    order by vehicle.unit collate "C" limit ${limit + 1}`
  const vehicles = found.slice(0, limit)
  return { vehicles, next: found.length > limit ? (vehicles.at(-1)?.unit ?? null) : null }
}
