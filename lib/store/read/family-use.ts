import type { VehicleRow } from '@/lib/records/rows'
import type { ClassRate } from '@/lib/records/usage'
import { WITH_CLASS_RATE } from '../inner/stale'
import type { OrganisationScope } from '../with-organisation'

/** How many vehicles of an engine family are driven in one way, and how far the middle one of them goes a day. */
export type FamilyUse = {
  duty: VehicleRow['duty']
  vehicles: number
  /** Null before their use was first found out. */
  kmPerDay: number | null
}

/** The vehicles of a family by how they are driven, the most common way first. Those sold or retired do not count. */
export async function readFamilyUse({ tx }: OrganisationScope, family: string): Promise<FamilyUse[]> {
  const found = await tx.$queryRawUnsafe<
    { duty: FamilyUse['duty']; vehicles: number; rate: ClassRate | null }[]
  >(
    `select vehicle.duty, count(*)::int as vehicles,
       (array_agg(coalesce(own_class.rates, whole_fleet.rates)))[1] as rate
     from ${WITH_CLASS_RATE}
     where vehicle.family = $1 and vehicle.status not in ('sold', 'retired') and vehicle.withdrawn_at is null
     group by vehicle.duty order by vehicles desc, vehicle.duty`,
    family,
  )
  return found.map(({ duty, vehicles, rate }) => ({
    duty,
    vehicles,
    kmPerDay: rate && Math.exp(rate.logKmPerDay),
  }))
}
