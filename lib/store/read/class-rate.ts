import type { ClassRate } from '@/lib/records/usage'
import { WITH_CLASS_RATE } from '../inner/stale'
import type { OrganisationScope } from '../with-organisation'

/** How vehicles of a vehicle's class are used, as it was last found out; null before that. */
export async function readClassRate({ tx }: OrganisationScope, unit: string): Promise<ClassRate | null> {
  const [found] = await tx.$queryRawUnsafe<{ rate: ClassRate | null }[]>(
    `select coalesce(own_class.rates, whole_fleet.rates) as rate from ${WITH_CLASS_RATE} where vehicle.unit = $1`,
    unit,
  )
  return found?.rate ?? null
}
