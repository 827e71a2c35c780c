import { actsAfter, isOpen, type ProposalAct, standingOf } from '@/lib/decisions/proposals'
import type { StoredVisit } from '@/lib/store/read/plan-visits'
import { type Proposal, readProposals } from '@/lib/store/read/proposals'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { actOnProposal, undoProposalAct } from '@/lib/store/write/act-on-proposal'
import type { Day } from '@/lib/units/dates'

type By = { now: Date; by: string | null }
type Visited = Pick<StoredVisit, 'unit' | 'jobs' | 'weekOn'>

/**
 * Proposals that a visit is about are booked for its week, unless somebody said no to them or wants them later: who
 * changes their mind answers that one.
 *
 * @returns ids of what was noted
 */
export async function bookProposals(
  scope: OrganisationScope,
  visit: Visited,
  today: Day,
  by: By,
): Promise<string[]> {
  const visitOn = Math.max(visit.weekOn, today)
  return actOnEach(scope, visit, { act: 'booked', visitOn }, by, ({ state, visitOn: before }) => {
    return state !== 'declined' && state !== 'put-off' && before !== visitOn
  })
}

/** They are done; what was found is to be written up. @returns ids of what was noted */
export function finishProposals(
  scope: OrganisationScope,
  visit: Pick<Visited, 'unit' | 'jobs'>,
  doneOn: Day,
  by: By,
): Promise<string[]> {
  return actOnEach(scope, visit, { act: 'done', doneOn }, by, () => true)
}

/**
 * Takes back what was noted; of a visit, that its proposals are booked. What somebody has done since stands.
 *
 * @returns nothing that would have to be taken back in turn
 */
export async function unbookProposals(
  scope: OrganisationScope,
  booked: readonly string[] | Pick<Visited, 'unit' | 'jobs'>,
  by: By,
): Promise<string[]> {
  const acts =
    'unit' in booked
      ? (await proposalsOf(scope, booked)).flatMap(({ acts: all }) => {
          const last = all.at(-1)
          return last?.act === 'booked' ? [last.id] : []
        })
      : booked
  for (const id of acts.toReversed()) await undoProposalAct(scope, id, by)
  return []
}

async function actOnEach(
  scope: OrganisationScope,
  visit: Pick<Visited, 'unit' | 'jobs'>,
  act: ProposalAct,
  by: By,
  isMeant: (standing: ReturnType<typeof standingOf>) => boolean,
): Promise<string[]> {
  const ids: string[] = []
  for (const proposal of await proposalsOf(scope, visit)) {
    const standing = standingOf(proposal, proposal.acts, proposal.works)
    if (!isOpen(standing) || !isMeant(standing) || !actsAfter(standing.state).includes(act.act)) continue
    const noted = await actOnProposal(scope, proposal.id, act, by)
    if (noted.ok) ids.push(noted.id)
  }
  return ids
}

/** Those of the vehicle that are about one of the jobs. */
async function proposalsOf(
  scope: OrganisationScope,
  { unit, jobs }: Pick<Visited, 'unit' | 'jobs'>,
): Promise<Proposal[]> {
  const proposals = await readProposals(scope, { unit })
  return proposals.filter(({ weakPoint, positions }) =>
    jobs.some(
      (job) =>
        job.weakPoint === weakPoint &&
        (positions.length === 0 || job.positions.some((position) => positions.includes(position))),
    ),
  )
}
