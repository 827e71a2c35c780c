import { actsAfter, type ProposalAct, standingOf } from '@/lib/decisions/proposals'
import { type Day, formatDay } from '@/lib/units/dates'
import { newId } from '../inner/new-id'
import { readProposals } from '../read/proposals'
import type { OrganisationScope } from '../with-organisation'

type By = { now: Date; by: string | null }

export type Acted = { ok: true; id: string } | { ok: false; reason: 'not-found' | 'not-now' }

/** Notes what was done with a proposal, where that may be done in the state that it is in. */
export async function actOnProposal(
  scope: OrganisationScope,
  proposal: string,
  act: ProposalAct,
  { now, by }: By,
): Promise<Acted> {
  const { tx, organisation } = scope
  const held = await tx.$queryRaw<unknown[]>`
    select from proposals where id = ${proposal}::uuid for no key update`
  const [found] = held.length > 0 ? await readProposals(scope, { ids: [proposal] }) : []
  if (!found) return { ok: false, reason: 'not-found' }
  const { state } = standingOf(found, found.acts, found.works)
  if (!actsAfter(state).includes(act.act)) return { ok: false, reason: 'not-now' }
  const id = newId(now)
  const { whom = null, how = null, reason = null, day = null } = detailsOf(act)
  await tx.$executeRaw`
    insert into proposal_acts (organisation_id, id, proposal_id, act, at, by, whom, how, reason, on_day)
    values (${organisation}::uuid, ${id}::uuid, ${proposal}::uuid, ${act.act}, ${now}, ${by}::uuid, ${whom}, ${how},
      ${reason}, ${day === null ? null : formatDay(day)}::date)`
  return { ok: true, id }
}

type Details = { whom?: string; how?: string; reason?: string; day?: Day | null }

function detailsOf(act: ProposalAct): Details {
  switch (act.act) {
    case 'told':
      return { whom: act.whom, how: act.how }
    case 'declined':
    case 'put-off':
      return { reason: act.reason, day: act.askAgainOn }
    case 'booked':
      return { day: act.visitOn }
    case 'done':
      return { day: act.doneOn }
    default:
      return {}
  }
}

/**
 * Takes back the last thing that was done with a proposal. It stays to be seen.
 *
 * @returns false where it is not the last that stands
 */
export async function undoProposalAct(
  { tx }: OrganisationScope,
  id: string,
  { now, by }: By,
): Promise<boolean> {
  // Whoever acts on it holds it, too: nothing is done on what is being taken back.
  await tx.$queryRaw`
    select from proposals where id = (select proposal_id from proposal_acts where id = ${id}::uuid) for no key update`
  const undone = await tx.$executeRaw`
    update proposal_acts act set undone_at = ${now}, undone_by = ${by}::uuid
    where act.id = ${id}::uuid and act.undone_at is null and not exists (
      select from proposal_acts later where later.proposal_id = act.proposal_id and later.undone_at is null
        and (later.at, later.id) > (act.at, act.id))`
  return undone > 0
}
