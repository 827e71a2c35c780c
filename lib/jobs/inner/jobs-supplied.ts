import { jobsWithParts } from '@/lib/decisions/part-arrival'
import type { PlanJob } from '@/lib/decisions/plan-request'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readPartStock } from '@/lib/store/read/part-lines'
import { readStandingVehicles } from '@/lib/store/read/standing-vehicles'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'

type When = { today: Day; firstDay: Day; weeks: number; agreed: ReadonlySet<string> }

/** Jobs with the first week in which their part is there, by what is said of the stock now. */
export async function jobsSupplied(
  scope: OrganisationScope,
  jobs: readonly PlanJob[],
  when: When,
): Promise<PlanJob[]> {
  const stock = await readPartStock(scope)
  const known = await readKnownLibrary(scope)
  if (stock.size === 0 || !known) return [...jobs]
  const families = new Map((await readStandingVehicles(scope)).map(({ unit, family }) => [unit, family]))
  const parts = new Map(
    known.library.families.flatMap(({ key, weakPoints }) =>
      weakPoints.map((point) => [`${key} ${point.key}`, point.part]),
    ),
  )
  const partOf = ({ unit, weakPoint }: Pick<PlanJob, 'unit' | 'weakPoint'>) =>
    parts.get(`${families.get(unit)} ${weakPoint}`) ?? null
  return jobsWithParts(jobs, { ...when, partOf, stock }).map(({ job }) => job)
}
