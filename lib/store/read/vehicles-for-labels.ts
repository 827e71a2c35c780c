import { Prisma } from '@/prisma/client/client'
import type { OrganisationScope } from '../with-organisation'

/** A vehicle that a label may be printed for. */
export type VehicleForLabel = {
  unit: string
  plate: string | null
  site: string | null
  family: string
  /** When the label that works was made; null where there is none. */
  labelledAt: Date | null
}

/** Which vehicles: by words in number, plate and chassis number, by site, with or without a label; or these. */
export type LabelsWanted = { search: string; site: string; without: boolean; units: readonly string[] }

const { sql } = Prisma

function conditions({ search, site, without, units }: LabelsWanted): Prisma.Sql {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean)
  return Prisma.join(
    [
      sql`vehicle.withdrawn_at is null`,
      units.length > 0
        ? sql`vehicle.unit = any(${[...units]}::text[])`
        : sql`vehicle.status in ('active', 'stock')`,
      ...words.map(
        (word) =>
          sql`lower(concat_ws(' ', vehicle.unit, vehicle.plate, vehicle.vin)) like ${`%${word.replace(/[\\%_]/g, '\\$&')}%`}`,
      ),
      ...(site === '' ? [] : [sql`vehicle.site = ${site}`]),
      ...(without ? [sql`label.id is null`] : []),
    ],
    ' and ',
  )
}

/** The vehicles that are asked for, in the order of their numbers, and how many there are whatever the limit. */
export async function readVehiclesForLabels(
  { tx }: OrganisationScope,
  wanted: LabelsWanted,
  most: number,
): Promise<{ vehicles: VehicleForLabel[]; total: number }> {
  const found = await tx.$queryRaw<(VehicleForLabel & { total: number })[]>`
    select vehicle.unit, vehicle.plate, vehicle.site, vehicle.family, label.made_at as "labelledAt",
      (count(*) over ())::int as total
    from vehicles vehicle left join vehicle_labels label on label.vehicle_id = vehicle.id and label.ended_at is null
    where ${conditions(wanted)}
    order by length(regexp_replace(vehicle.unit, '[^0-9]', '', 'g')), vehicle.unit collate "C" limit ${most}`
  return {
    vehicles: found.map(({ total: _, ...vehicle }) => vehicle),
    total: found[0]?.total ?? 0,
  }
}

/** The sites that there are, in order. */
export async function readSites({ tx }: OrganisationScope): Promise<string[]> {
  const found = await tx.$queryRaw<{ site: string }[]>`
    select distinct site from vehicles where site is not null and withdrawn_at is null order by site limit 200`
  return found.map(({ site }) => site)
}
