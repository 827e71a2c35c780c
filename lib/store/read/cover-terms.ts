import type { OrganisationScope } from '../with-organisation'

/** What a cover of one vehicle gives, as somebody has said it. */
export type CoverTerms = {
  id: string
  /** How long it is given for, until it is sold with an end of its own; null: the usual cover. */
  days: number | null
  /** Ends it earlier; null: only the days count. */
  km: number | null
  /** Weak points, by key, that it leaves out. */
  excluded: string[]
  /** The most that is paid for one failure; null: all of it. */
  claimLimit: number | null
  madeAt: Date
  madeByName: string | null
}

/** The terms of a vehicle's cover; null where nobody has said any, or they were taken back. */
export async function readCoverTerms({ tx }: OrganisationScope, unit: string): Promise<CoverTerms | null> {
  const [found] = await tx.$queryRaw<CoverTerms[]>`
    select terms.id, terms.days, terms.km, terms.excluded, terms.claim_limit as "claimLimit",
      terms.made_at as "madeAt", person.name as "madeByName"
    from cover_terms terms
      join vehicles vehicle on vehicle.organisation_id = terms.organisation_id and vehicle.id = terms.vehicle_id
      left join people person on person.id = terms.made_by
    where vehicle.unit = ${unit} and vehicle.withdrawn_at is null and terms.undone_at is null
    order by terms.made_at desc, terms.id desc limit 1`
  return found ?? null
}
