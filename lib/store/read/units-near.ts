import type { Day } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'

/** A stretch between two readings is looked at where it is no longer than this on either side of the day asked for. */
const MOST_DAYS = 60
const NEAR_KM = 100
/** Where more vehicles than this come into question, nothing can be told from an odometer. */
const MOST_UNITS = 20

/**
 * The vehicles whose readings, one before and the next after, have one of these odometers between them.
 *
 * @param unit the vehicle that is left out
 * @returns none where more than 20 have
 */
export async function readUnitsNear(
  { tx }: OrganisationScope,
  unit: string,
  places: readonly { day: Day; km: number }[],
): Promise<string[]> {
  const found = await tx.$queryRaw<{ unit: string }[]>`
    with asked as (
      select date '1970-01-01' + day as day, km
      from unnest(${places.map(({ day }) => day)}::int[], ${places.map(({ km }) => km)}::float[]) as asked(day, km)),
    stretches as (
      select vehicle_id, read_on as from_day, odometer_km as from_km,
        lead(read_on) over next as to_day, lead(odometer_km) over next as to_km
      from readings where superseded_at is null and withdrawn_at is null
        and exists (select from asked where abs(asked.day - read_on) <= ${MOST_DAYS})
      window next as (partition by vehicle_id order by read_on, odometer_km))
    select distinct vehicle.unit
    from stretches join asked on asked.day between from_day and to_day
        and asked.km between from_km - ${NEAR_KM} and to_km + ${NEAR_KM}
      join vehicles vehicle on vehicle.id = stretches.vehicle_id
    where vehicle.withdrawn_at is null and vehicle.unit <> ${unit} limit ${MOST_UNITS + 1}`
  return found.length > MOST_UNITS ? [] : found.map((each) => each.unit)
}
