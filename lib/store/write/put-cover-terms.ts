import { newId } from '../inner/new-id'
import type { CoverTerms } from '../read/cover-terms'
import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'

type By = { now: Date; by: string | null }
export type TermsSaid = Omit<CoverTerms, 'id' | 'madeAt' | 'madeByName'>

/** Says what a vehicle's cover gives; what was said before stays to go back to. @returns null where there is no such vehicle */
export async function putCoverTerms(
  { tx, organisation }: OrganisationScope,
  unit: string,
  { days, km, excluded, claimLimit }: TermsSaid,
  { now, by }: By,
): Promise<string | null> {
  const id = newId(now)
  const made = await tx.$executeRaw`
    insert into cover_terms (organisation_id, id, vehicle_id, days, km, excluded, claim_limit, made_at, made_by)
    select organisation_id, ${id}::uuid, id, ${days}::integer, ${km}::float8, ${excluded}::text[], ${claimLimit}::float8,
      ${now}, ${by}::uuid
    from vehicles where unit = ${unit} and withdrawn_at is null`
  if (made === 0) return null
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
  return id
}

/** Takes back what was said last, so that what was said before holds again. @returns false where it is not the last */
export async function undoCoverTerms(
  { tx, organisation }: OrganisationScope,
  id: string,
  { now, by }: By,
): Promise<boolean> {
  const undone = await tx.$executeRaw`
    update cover_terms terms set undone_at = ${now}, undone_by = ${by}::uuid
    where terms.id = ${id}::uuid and terms.undone_at is null and not exists (
      select from cover_terms later where later.vehicle_id = terms.vehicle_id and later.undone_at is null
        and (later.made_at, later.id) > (terms.made_at, terms.id))`
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
  return undone > 0
}
