import { type Day, formatDay } from '@/lib/units/dates'
import { HISTORY_HORIZON_DAYS } from '../horizons'
import { BASIS, WITH_CLASS_RATE } from '../inner/stale'
import type { Standing } from '../standing'
import type { OrganisationScope } from '../with-organisation'
import type { ScoringGround } from './scoring-ground'

/** A vehicle of a customer, as far as it asks whether to call or write. */
export type CallVehicle = {
  unit: string
  plate: string | null
  family: string
  familyName: string
  /** Whose it is now; null where its owner has changed since anybody wrote the name down. */
  customer: string | null
  contact: string | null
  /** As the watchlist has it. */
  standing: Standing
  /** The last day that any record of it is about. */
  lastRecordOn: Day | null
  /** What it rests on now: other text, other numbers. */
  basis: string
}

/** A kind of record, and the column of the day that it is about. */
const DAYS = [
  ['readings', 'read_on'],
  ['codes', 'seen_on'],
  ['checks', 'checked_on'],
  ['repairs', 'done_on'],
] as const

const LAST_RECORDS = DAYS.map(
  ([table, day]) => `
    select vehicle_id, max(${day}) as day from ${table}
    where superseded_at is null and withdrawn_at is null and ${day} <= $2::date group by vehicle_id`,
).join(' union all ')

/** When what stands was written down: when something else stood last, or with the vehicle. */
const writtenOn = (fact: 'customer' | 'contact') => `
  coalesce((select max(version.replaced_at at time zone $3)::date from vehicle_versions version
    where version.vehicle_id = vehicle.id and version.before->>'${fact}' is distinct from vehicle.${fact}),
  vehicle.entered_on, (vehicle.entered_at at time zone $3)::date)`

/** The owner has changed since it was written down. */
const isOfEarlierOwner = (fact: 'customer' | 'contact') => `
  exists (select from changes change
    where change.vehicle_id = vehicle.id and change.kind = 'owner' and change.superseded_at is null
      and change.withdrawn_at is null and change.changed_on > ${writtenOn(fact)})`

const SQL = `
  select vehicle.unit, vehicle.plate, vehicle.family, score.family_name as "familyName",
    case when not ${isOfEarlierOwner('customer')} then vehicle.customer end as customer,
    case when not (${isOfEarlierOwner('customer')} or ${isOfEarlierOwner('contact')})
      then vehicle.contact end as contact,
    case when score.assessed then score.advice else 'not-assessed' end as standing,
    seen.day - date '1970-01-01' as "lastRecordOn", ${BASIS} as basis
  from ${WITH_CLASS_RATE}
    join vehicle_scores score on score.vehicle_id = vehicle.id and score.horizon_days = ${HISTORY_HORIZON_DAYS}
    left join (select vehicle_id, max(day) as day from (${LAST_RECORDS}) as days group by vehicle_id) seen
      on seen.vehicle_id = vehicle.id
  where vehicle.withdrawn_at is null and vehicle.customer is not null and vehicle.status in ('active', 'sold')
    and ($4::text[] is null or vehicle.unit = any($4::text[]))
  order by score.urgency, vehicle.sequence`

/**
 * The vehicles that belong to customers and are scored, the most urgent first. The name and contact of an earlier owner
 * are not those of the present one, and are not told.
 *
 * @param units those of them that are meant; every one where it is left out
 */
export function readCallVehicles(
  { tx }: OrganisationScope,
  { text, asOf, settings }: ScoringGround,
  units: readonly string[] | null = null,
): Promise<CallVehicle[]> {
  return tx.$queryRawUnsafe<CallVehicle[]>(SQL, text, formatDay(asOf), settings.timeZone, units)
}
