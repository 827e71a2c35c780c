import { customerKey } from '@/lib/records/customer-key'
import { type Day, formatDay } from '@/lib/units/dates'
import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'
import { holdLetters } from './write-letter'

type By = { now: Date; by: string | null }

/** Notes that a customer wants no letters, by name; once is enough. */
export async function optOut(
  scope: OrganisationScope,
  { customer, today }: { customer: string; today: Day },
  { now, by }: By,
): Promise<void> {
  const { tx, organisation } = scope
  await holdLetters(scope)
  const key = customerKey(customer)
  await tx.$executeRaw`
    insert into letter_opt_outs (organisation_id, id, customer, customer_key, noted_on, noted_at, noted_by)
    select ${organisation}::uuid, ${newId(now)}::uuid, ${customer}, ${key}, ${formatDay(today)}::date, ${now}, ${by}::uuid
    where not exists (select from letter_opt_outs where customer_key = ${key} and undone_at is null)`
}

/**
 * They want letters again, or it was noted by mistake.
 *
 * @returns false where there is no such note
 */
export async function undoOptOut({ tx }: OrganisationScope, id: string, { now, by }: By): Promise<boolean> {
  const undone = await tx.$executeRaw`
    update letter_opt_outs set undone_at = ${now}, undone_by = ${by}::uuid
    where id = ${id}::uuid and undone_at is null`
  return undone > 0
}
