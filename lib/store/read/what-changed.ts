import type { Day } from '@/lib/units/dates'
import { changesSince } from '../inner/watchlist-sql'
import type { OrganisationScope } from '../with-organisation'
import { BARE_QUERY, type Change } from './watchlist-query'

/** What has become of the organisation's vehicles since a day. */
export type ChangesSince = {
  since: Day
  /** The first day that scores were kept for; changes before it are not known. */
  keptFrom: Day | null
  /** Vehicles newly not to be driven, with a weak point under another advice, with a chance that rose. */
  vehicles: Record<Change, number>
}

/** Counts the vehicles by what has become of them since a day. */
export async function readWhatChanged(
  { tx }: OrganisationScope,
  horizonDays: number,
  since: Day,
): Promise<ChangesSince> {
  const [first] = await tx.$queryRaw<{ keptFrom: Day | null }[]>`
    select min(as_of) - date '1970-01-01' as "keptFrom" from score_history where horizon_days = ${horizonDays}`
  const [vehicles] = await tx.$queryRaw<Record<Change, number>[]>`
    with ${changesSince({ ...BARE_QUERY, since, horizonDays })}
    select (count(*) filter (where any_stop))::int as stop, (count(*) filter (where any_advice))::int as advice,
      (count(*) filter (where any_risen))::int as risen from change`
  return { since, keptFrom: first?.keptFrom ?? null, vehicles: vehicles! }
}
