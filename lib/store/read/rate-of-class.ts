import type { ClassRate } from '@/lib/records/usage'
import type { OrganisationScope } from '../with-organisation'

/** How vehicles of a class are used, else the whole fleet's; null before any vehicle was scored. */
export async function readRateOfClass(
  { tx }: OrganisationScope,
  { duty, family }: { duty: string; family: string },
): Promise<ClassRate | null> {
  const [found] = await tx.$queryRaw<{ rates: ClassRate }[]>`
    select rates from class_rates where class in (${`${duty} ${family}`}, '') order by class desc limit 1`
  return found?.rates ?? null
}
