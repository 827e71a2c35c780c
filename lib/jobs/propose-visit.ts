import { isOpen, standingOf } from '@/lib/decisions/proposals'
import { HISTORY_HORIZON_DAYS } from '@/lib/store/horizons'
import { type Proposal, readProposals } from '@/lib/store/read/proposals'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleComponents, type VehicleComponent } from '@/lib/store/read/vehicle-components'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { holdVehicle } from '@/lib/store/write/hold-vehicle'
import { makeProposals, type NewProposal } from '@/lib/store/write/make-proposals'
import { dayIn } from '@/lib/units/dates'
import { jobWithout, nextVisit, type Visiting, type VisitJob } from './next-visit'

/** What became of it: how many jobs were proposed, and how many stood there already. */
export type Proposed = { made: number; standing: number }

/**
 * Proposes the jobs of a vehicle's next visit, with what is thought of each at this hour. A part of which
 * a proposal waits for an answer, or was answered with no, is not proposed again: who changes their mind answers that one.
 *
 * @param now the present instant
 */
export async function proposeVisit(
  scope: OrganisationScope,
  asked: { unit: string } & Visiting,
  { now, by }: { now: Date; by: string | null },
): Promise<Proposed> {
  const visit = await nextVisit(scope, asked, now)
  if (!visit) return { made: 0, standing: 0 }
  const { unit } = asked
  const today = dayIn((await readTerms(scope)).timeZone, now)
  // Of two who press at once the second sees what the first has proposed.
  await holdVehicle(scope, unit)
  const before = await readProposals(scope, { unit })
  const components = await readVehicleComponents(scope, unit, HISTORY_HORIZON_DAYS)
  const fresh = visit.jobs.flatMap((job) => jobWithout(job, positionsThatStand(before, job)) ?? [])
  const making = { unit, asOf: today, today, horizonDays: HISTORY_HORIZON_DAYS, now, by }
  if (fresh.length > 0)
    await makeProposals(
      scope,
      fresh.map((job) => proposalOf(job, components)),
      making,
    )
  return { made: fresh.length, standing: visit.jobs.length - fresh.length }
}

/** The positions of a job of which a proposal waits for an answer, or was answered with no. */
function positionsThatStand(proposals: readonly Proposal[], { weakPoint }: VisitJob): Set<number> {
  const standing = proposals.filter((proposal) => {
    const standing = standingOf(proposal, proposal.acts, proposal.works)
    return proposal.weakPoint === weakPoint && (isOpen(standing) || standing.state === 'declined')
  })
  return new Set(standing.flatMap(({ positions }) => positions))
}

/** A job as it is proposed, with what its scores say of it at this hour. */
export function proposalOf(
  job: Pick<VisitJob, 'weakPoint' | 'positions' | 'price' | 'hours' | 'gain' | 'low' | 'high'>,
  components: readonly VehicleComponent[],
): NewProposal {
  const own = components.filter(
    ({ weakPoint, position }) => weakPoint === job.weakPoint && job.positions.includes(position),
  )
  const [leading] = own
  return {
    weakPoint: job.weakPoint,
    positions: job.positions,
    chances: own.map(({ position, pFail, pLow, pHigh }) => ({ position, pFail, pLow, pHigh })),
    advice: leading?.advice ?? 'fine',
    costOfWaiting: own.reduce((sum, { costOfWaiting }) => sum + costOfWaiting, 0),
    price: job.price,
    hours: job.hours,
    saving: { value: job.gain, low: job.low, high: job.high },
    evidence: leading?.speaks ?? '',
  }
}
