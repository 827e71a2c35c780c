import type { Advice } from '@/lib/decisions/advice'
import { type Day, formatDay } from '@/lib/units/dates'
import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

/** The chance of one position as it was when a job was proposed, with its 80 % band. */
export type ProposedChance = { position: number; pFail: number; pLow: number; pHigh: number }

/** A job as it is proposed: what is thought of it at that hour, and what it costs. */
export type NewProposal = {
  weakPoint: string
  positions: number[]
  chances: ProposedChance[]
  advice: Advice
  costOfWaiting: number
  /** Parts and hours of the job; the visit not counted. */
  price: number
  hours: number
  /** What doing it on the visit saves against leaving it, with its band; null where nothing was reckoned. */
  saving: { value: number; low: number; high: number } | null
  /** What speaks for it, in a few words. */
  evidence: string
}

type Making = { unit: string; asOf: Day; today: Day; horizonDays: number; now: Date; by: string | null }

/**
 * Proposes jobs for one visit of a vehicle.
 *
 * @returns their ids in their order; null where there is no such vehicle
 */
export async function makeProposals(
  { tx, organisation }: OrganisationScope,
  jobs: readonly NewProposal[],
  { unit, asOf, today, horizonDays, now, by }: Making,
): Promise<string[] | null> {
  const [vehicle] = await tx.$queryRaw<{ id: string }[]>`
    select id::text from vehicles where unit = ${unit} and withdrawn_at is null for no key update`
  if (!vehicle) return null
  const visit = newId(now)
  const ids: string[] = []
  for (const job of jobs) {
    const id = newId(now)
    const { value = null, low = null, high = null } = job.saving ?? {}
    await tx.$executeRaw`
      insert into proposals (organisation_id, id, vehicle_id, visit_id, weak_point, positions, made_at, made_on, made_by,
        as_of, horizon_days, chances, advice, cost_of_waiting, price, hours, saving, saving_low, saving_high, evidence)
      values (${organisation}::uuid, ${id}::uuid, ${vehicle.id}::uuid, ${visit}::uuid, ${job.weakPoint}, ${job.positions},
        ${now}, ${formatDay(today)}::date, ${by}::uuid, ${formatDay(asOf)}::date, ${horizonDays},
        ${JSON.stringify(job.chances)}::jsonb, ${job.advice}, ${job.costOfWaiting}, ${job.price}, ${job.hours},
        ${value}::float, ${low}::float, ${high}::float, ${job.evidence})`
    ids.push(id)
  }
  return ids
}
