import type { Day } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'

/** From which day to which anything is on record; null where nothing is. */
export async function readSpanOfRecords({
  tx,
}: OrganisationScope): Promise<{ first: Day; last: Day } | null> {
  const [found] = await tx.$queryRaw<{ first: Day | null; last: Day | null }[]>`
    select min(first) - '1970-01-01'::date as first, max(last) - '1970-01-01'::date as last from (
      select min(read_on) as first, max(read_on) as last from readings
        where superseded_at is null and withdrawn_at is null
      union all select min(seen_on), max(seen_on) from codes where superseded_at is null and withdrawn_at is null
      union all select min(checked_on), max(checked_on) from checks
        where superseded_at is null and withdrawn_at is null
      union all select min(done_on), max(done_on) from repairs where superseded_at is null and withdrawn_at is null
      union all select min(changed_on), max(changed_on) from changes
        where superseded_at is null and withdrawn_at is null) spans`
  return found && found.first !== null && found.last !== null
    ? { first: found.first, last: found.last }
    : null
}
