import type { ClassRate } from '@/lib/records/usage'
import type { OrganisationScope } from '../with-organisation'

/** How vehicles of an engine are used that drive in a way, as it was last found out; else how all are; null before that. */
export async function readClassRateOf(
  { tx }: OrganisationScope,
  { duty, family }: { duty: string; family: string },
): Promise<ClassRate | null> {
  const [found] = await tx.$queryRaw<{ rate: ClassRate | null }[]>`
    select coalesce(
      (select rates from class_rates where class = ${`${duty} ${family}`}),
      (select rates from class_rates where class = '')) as rate`
  return found?.rate ?? null
}
