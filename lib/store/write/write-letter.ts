import { customerKey } from '@/lib/records/customer-key'
import { type Day, formatDay } from '@/lib/units/dates'
import { lockOrganisation } from '../inner/locks'
import { newId } from '../inner/new-id'
import type { LetterJob } from '../read/letters'
import type { OrganisationScope } from '../with-organisation'
import { undoProposalAct } from './act-on-proposal'

type By = { now: Date; by: string | null }

/** A letter that goes out: to whom, about which vehicle and jobs, as it was written. */
export type NewLetter = {
  unit: string
  customer: string
  jobs: LetterJob[]
  content: string
  /** The acts by which its jobs were noted as told. */
  proposalActs: string[]
  today: Day
  letterEveryDays: number
}

export type Written =
  | { ok: true; id: string }
  | { ok: false; reason: 'not-found' | 'opted-out' }
  | { ok: false; reason: 'written-lately'; on: Day }

/** Keeps others who write, or note that somebody wants no letters, waiting until the end. */
export const holdLetters = (scope: OrganisationScope): Promise<void> => lockOrganisation(scope, 'letters')

/** Notes a letter as written, where its customer wants letters and was not written to within the days between two. */
export async function writeLetter(
  scope: OrganisationScope,
  letter: NewLetter,
  { now, by }: By,
): Promise<Written> {
  const { tx, organisation } = scope
  const { unit, customer, jobs, content, proposalActs, today, letterEveryDays } = letter
  await holdLetters(scope)
  const key = customerKey(customer)
  const [vehicle] = await tx.$queryRaw<{ id: string; optedOut: boolean; last: Day | null }[]>`
    select id::text,
      exists (select from letter_opt_outs where customer_key = ${key} and undone_at is null) as "optedOut",
      (select max(written_on) - date '1970-01-01' from letters
        where customer_key = ${key} and undone_at is null) as last
    from vehicles where unit = ${unit} and withdrawn_at is null`
  if (!vehicle) return { ok: false, reason: 'not-found' }
  if (vehicle.optedOut) return { ok: false, reason: 'opted-out' }
  if (vehicle.last !== null && vehicle.last + letterEveryDays > today)
    return { ok: false, reason: 'written-lately', on: vehicle.last }
  const id = newId(now)
  await tx.$executeRaw`
    insert into letters (organisation_id, id, vehicle_id, customer, customer_key, jobs, content, written_on, written_at,
      written_by, proposal_acts)
    values (${organisation}::uuid, ${id}::uuid, ${vehicle.id}::uuid, ${customer}, ${key}, ${JSON.stringify(jobs)}::jsonb,
      ${content}, ${formatDay(today)}::date, ${now}, ${by}::uuid, ${proposalActs}::uuid[])`
  return { ok: true, id }
}

/**
 * Takes a letter back that did not go out: its jobs count as told no more, unless something was done with them since.
 *
 * @returns false where there is none
 */
export async function undoLetter(scope: OrganisationScope, id: string, { now, by }: By): Promise<boolean> {
  await holdLetters(scope)
  const [undone] = await scope.tx.$queryRaw<{ acts: string[] }[]>`
    update letters set undone_at = ${now}, undone_by = ${by}::uuid
    where id = ${id}::uuid and undone_at is null returning proposal_acts::text[] as acts`
  for (const act of undone?.acts ?? []) await undoProposalAct(scope, act, { now, by })
  return undone !== undefined
}
