import type { Day } from '@/lib/units/dates'
import type { Standing } from '../standing'
import type { OrganisationScope } from '../with-organisation'

/** What somebody beside a vehicle needs to know of it without reception. */
export type VehicleToTakeAlong = {
  unit: string
  plate: string | null
  site: string | null
  /** The key of its engine; the library may not have it. */
  family: string
  /** Null where it has not been scored. */
  standing: Standing | null
  /** The weak point that leads, and what speaks for it. */
  leading: string | null
  speaks: string | null
  /** The last trusted odometer as its instrument said it. */
  odometer: { day: Day; km: number } | null
  kmPerDay: number | null
}

/**
 * Every vehicle that somebody may stand beside: in use, in stock, or sold and still scored. A score keeps the day of the
 * last trusted odometer and what it has come to since; the figure itself is the one on record that day that is nearest
 * to it.
 */
export function readVehiclesToTakeAlong({ tx }: OrganisationScope): Promise<VehicleToTakeAlong[]> {
  return tx.$queryRaw<VehicleToTakeAlong[]>`
    with scored as (
      select vehicle_id, odometer_read_on as read_on,
        odometer_km - coalesce(km_per_day, 0) * (case when standing then 0 else as_of - odometer_read_on end) as about_km
      from vehicle_scores where horizon_days = 90 and odometer_read_on is not null),
    on_record as (
      select vehicle_id, read_on as day, odometer_km as km from readings
        where withdrawn_at is null and superseded_at is null
      union all select vehicle_id, seen_on, odometer_km from codes
        where withdrawn_at is null and superseded_at is null and odometer_km is not null
      union all select vehicle_id, checked_on, odometer_km from checks
        where withdrawn_at is null and superseded_at is null and odometer_km is not null
      union all select vehicle_id, done_on, odometer_km from repairs
        where withdrawn_at is null and superseded_at is null and odometer_km is not null),
    last_read as (
      select distinct on (scored.vehicle_id) scored.vehicle_id, on_record.day, on_record.km
      from scored join on_record on on_record.vehicle_id = scored.vehicle_id and on_record.day = scored.read_on
      order by scored.vehicle_id, abs(on_record.km - scored.about_km))
    select vehicle.unit, vehicle.plate, vehicle.site, vehicle.family,
      case when score.vehicle_id is not null then
        case when score.assessed then score.advice else 'not-assessed' end end as standing,
      score.leading_name as leading, score.speaks,
      case when last_read.vehicle_id is not null then
        jsonb_build_object('day', last_read.day - date '1970-01-01', 'km', last_read.km) end as odometer,
      score.km_per_day as "kmPerDay"
    from vehicles vehicle
      left join vehicle_scores score on score.vehicle_id = vehicle.id and score.horizon_days = 90
      left join last_read on last_read.vehicle_id = vehicle.id
    where vehicle.withdrawn_at is null and (vehicle.status in ('active', 'stock') or score.vehicle_id is not null)
    order by vehicle.unit`
}
