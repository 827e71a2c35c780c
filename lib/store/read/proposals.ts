import type { Advice } from '@/lib/decisions/advice'
import type { ProposalAct } from '@/lib/decisions/proposals'
import { parsedLibrary } from '@/lib/records/parsed-library'
import type { RepairRow } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import { nameComponent, type Place } from '../inner/component-names'
import type { OrganisationScope } from '../with-organisation'
import type { ProposedChance } from '../write/make-proposals'
import { readLibraryInForce } from './library-in-force'

/** Something that was done with a proposal: when and by whom. */
export type DoneAct = ProposalAct & { id: string; at: Date; day: Day; byName: string | null }

/** Work on record that could be about it. */
export type ProposalWork = Pick<RepairRow, 'weakPoint' | 'positions' | 'doneOn' | 'found' | 'because'>

/** A proposal as it was made, with what was done with it since; the undone acts are left out. */
export type Proposal = {
  id: string
  visitId: string
  unit: string
  plate: string | null
  customer: string | null
  weakPoint: string
  name: string
  place: Place
  positions: number[]
  madeAt: Date
  madeOn: Day
  madeByName: string | null
  asOf: Day
  horizonDays: number
  chances: ProposedChance[]
  advice: Advice
  costOfWaiting: number
  price: number
  hours: number
  saving: number | null
  savingLow: number | null
  savingHigh: number | null
  evidence: string
  acts: DoneAct[]
  works: ProposalWork[]
}

type Found = Omit<Proposal, 'name' | 'place' | 'acts'> & { family: string; acts: FoundAct[] }
type FoundAct = {
  id: string
  act: ProposalAct['act']
  at: string
  day: Day
  byName: string | null
  whom: string | null
  how: string | null
  reason: string | null
  onDay: Day | null
}

/** Which proposals: some, those of a vehicle, or all. */
export type ProposalsWanted = { ids: string[] } | { unit: string } | { all: true }

/**
 * Proposals, the latest first, with their acts in order and the work on record of their weak point since. One of a
 * vehicle that was made one with another is the other's; one of a vehicle that is gone is not told.
 */
export async function readProposals(scope: OrganisationScope, wanted: ProposalsWanted): Promise<Proposal[]> {
  const ids = 'ids' in wanted ? wanted.ids : null
  const unit = 'unit' in wanted ? wanted.unit : null
  const found = await scope.tx.$queryRaw<Found[]>`
    with recursive way as (
      select id as origin, id, withdrawn_at from vehicles where id in (select vehicle_id from proposals)
      union
      select way.origin, vehicle.id, vehicle.withdrawn_at
      from way
        join vehicle_versions version on version.replaced_at = way.withdrawn_at and version.intake_id is null
        join vehicles vehicle on vehicle.id = version.vehicle_id and vehicle.id <> way.id
      where way.withdrawn_at is not null
        and (vehicle.withdrawn_at is null or vehicle.withdrawn_at > way.withdrawn_at))
    select proposal.id::text, proposal.visit_id::text as "visitId", vehicle.unit, vehicle.plate, vehicle.customer,
      vehicle.family, proposal.weak_point as "weakPoint", proposal.positions, proposal.made_at as "madeAt",
      proposal.made_on - date '1970-01-01' as "madeOn", maker.name as "madeByName",
      proposal.as_of - date '1970-01-01' as "asOf", proposal.horizon_days as "horizonDays", proposal.chances,
      proposal.advice, proposal.cost_of_waiting as "costOfWaiting", proposal.price, proposal.hours, proposal.saving,
      proposal.saving_low as "savingLow", proposal.saving_high as "savingHigh", proposal.evidence,
      acts.list as acts, works.list as works
    from proposals proposal
      join way on way.origin = proposal.vehicle_id and way.withdrawn_at is null
      join vehicles vehicle on vehicle.id = way.id
      join organisations organisation on organisation.id = proposal.organisation_id
      left join people maker on maker.id = proposal.made_by
      cross join lateral (
        select coalesce(json_agg(json_build_object('id', act.id, 'act', act.act, 'at', act.at,
          'day', (act.at at time zone coalesce(organisation.settings->>'timeZone', 'UTC'))::date - date '1970-01-01',
          'byName', person.name, 'whom', act.whom, 'how', act.how, 'reason', act.reason,
          'onDay', act.on_day - date '1970-01-01') order by act.at, act.id), '[]') as list
        from proposal_acts act left join people person on person.id = act.by
        where act.proposal_id = proposal.id and act.undone_at is null) acts
      cross join lateral (
        select coalesce(json_agg(json_build_object('weakPoint', repair.weak_point, 'positions', repair.positions,
          'doneOn', repair.done_on - date '1970-01-01', 'found', repair.found, 'because', repair.because)
          order by repair.done_on, repair.sequence), '[]') as list
        from repairs repair
        where repair.vehicle_id = vehicle.id and repair.weak_point = proposal.weak_point
          and repair.done_on >= proposal.made_on and repair.superseded_at is null and repair.withdrawn_at is null) works
    where (${ids}::uuid[] is null or proposal.id = any(${ids}::uuid[]))
      and (${unit}::text is null or vehicle.unit = ${unit})
    order by proposal.made_at desc, proposal.id`
  if (found.length === 0) return []
  const stored = await readLibraryInForce(scope)
  const parsed = stored && parsedLibrary(stored.content)
  return found.map(({ family, acts, ...proposal }) => ({
    ...proposal,
    acts: acts.map(actOf),
    ...(parsed?.ok
      ? nameComponent(proposal.weakPoint, family, parsed.library)
      : { name: proposal.weakPoint, place: null }),
  }))
}

/** What its columns hold was put there as this act. */
function actOf({ id, act, at, day, byName, whom, how, reason, onDay }: FoundAct): DoneAct {
  const told = { act, whom, how, reason, askAgainOn: onDay, visitOn: onDay, doneOn: onDay }
  return { ...told, id, at: new Date(at), day, byName } as DoneAct
}
