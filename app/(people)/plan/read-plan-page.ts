import { whyThere } from '@/lib/decisions/plan-why'
import { movesOf } from '@/lib/jobs/act-on-plan'
import { type PlanNow, readPlanNow } from '@/lib/jobs/plan-now'
import { readProposedPlan } from '@/lib/jobs/plan-proposal'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readLastPlanAct } from '@/lib/store/read/plan-act'
import { readPlanProgress } from '@/lib/store/read/plan-job'
import { readStandingVehicles } from '@/lib/store/read/standing-vehicles'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { jobNameIn } from '../vehicles/[unit]/proposal-words'

/** How a job is called: of which vehicle, and which of its places. */
export type Named = (unit: string, job: { weakPoint: string; positions: readonly number[] }) => string

export type PlanPageData = Awaited<ReturnType<typeof readPlanPage>>
/** The visit that is open, with why it is there and what each move would do. */
export type Opened = NonNullable<PlanPageData['opened']>

/** Everything that the page of the plan shows. @param visit the id of the one that is open, as it stands in the address */
export function readPlanPage(
  { database, organisation }: { database: Database; organisation: OrganisationId },
  { visit, now }: { visit: string | null; now: Date },
) {
  return withOrganisation(database, organisation, async (scope) => {
    const terms = await readTerms(scope)
    const known = await readKnownLibrary(scope)
    const plan = await readPlanNow(scope, now)
    const progress = await readPlanProgress(scope)
    const units = unitsOf(plan, progress.soFar?.content.visits ?? [])
    const vehicles = await readStandingVehicles(scope, units)
    const families = new Map(known?.library.families.map((family) => [family.key, family]))
    const familyOf = new Map(vehicles.map(({ unit, family }) => [unit, families.get(family)]))
    const named: Named = (unit, job) => jobNameIn(familyOf.get(unit), job)
    return {
      ...{ terms, plan, progress, named, familyOf },
      hasLibrary: (known?.library.families.length ?? 0) > 0,
      proposed: await readProposedPlan(scope, now),
      lastAct: await readLastPlanAct(scope),
      opened: openedIn(plan, visit),
    }
  })
}

function unitsOf({ plan, rows }: PlanNow, soFar: readonly { unit: string }[]): string[] {
  const left = plan ? [...plan.left.stops, ...plan.left.below, ...plan.left.lostPins, ...plan.slipped] : []
  return [...new Set([...rows, ...left, ...soFar].map(({ unit }) => unit))]
}

function openedIn({ plan, visits }: PlanNow, id: string | null) {
  const visit = visits.find(({ row }) => row.id === id)
  if (!plan || !visit) return null
  return {
    visit,
    why: whyThere(plan.request, visits, visit),
    moves: movesOf(plan.request, visits, visit),
  }
}

/** The jobs of one weak point together, for a visit's list. */
export function togetherBy<Job extends { weakPoint: string; positions: number[] }>(jobs: readonly Job[]) {
  const points = [...new Set(jobs.map(({ weakPoint }) => weakPoint))]
  return points.map((weakPoint) => {
    const own = jobs.filter((job) => job.weakPoint === weakPoint)
    return { weakPoint, positions: own.flatMap(({ positions }) => positions).sort((a, b) => a - b), own }
  })
}
