import type { VehicleRow } from '@/lib/records/rows'
import type { ClassRate } from '@/lib/records/usage'
import { WITH_CLASS_RATE } from '../inner/stale'
import type { OrganisationScope } from '../with-organisation'

/** How many vehicles of an engine family are driven in one way, and how far the middle one of them goes a day. */
export type FamilyUse = {
  duty: VehicleRow['duty']
  vehicles: number
  /** The same by the version of the engine that they have; null: not known which. */
  variants: { variant: string | null; vehicles: number }[]
  /** Null before their use was first found out. */
  kmPerDay: number | null
}

type Found = {
  duty: FamilyUse['duty']
  variants: FamilyUse['variants']
  vehicles: number
  rate: ClassRate | null
}

/** The vehicles of a family by how they are driven, the most common way first. Those sold or retired do not count. */
export async function readFamilyUse({ tx }: OrganisationScope, family: string): Promise<FamilyUse[]> {
  const found = await tx.$queryRawUnsafe<Found[]>(
    `select duty, sum(vehicles)::int as vehicles, (array_agg(rate))[1] as rate,
       json_agg(json_build_object('variant', variant, 'vehicles', vehicles) order by vehicles desc, variant) as variants
     from (
       select vehicle.duty, vehicle.variant, count(*)::int as vehicles,
         (array_agg(coalesce(own_class.rates, whole_fleet.rates)))[1] as rate
       from ${WITH_CLASS_RATE}
       where vehicle.family = $1 and vehicle.status not in ('sold', 'retired') and vehicle.withdrawn_at is null
       group by vehicle.duty, vehicle.variant
     ) of_variant
     group by duty order by vehicles desc, duty`,
    family,
  )
  return found.map(({ duty, vehicles, variants, rate }) => ({
    duty,
    vehicles,
    variants,
    kmPerDay: rate && Math.exp(rate.logKmPerDay),
  }))
}
