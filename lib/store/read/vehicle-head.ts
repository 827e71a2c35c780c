import type { Day } from '@/lib/units/dates'
import { Prisma } from '@/prisma/client/client'
import type { Place } from '../inner/component-names'
import type { Standing } from '../standing'
import type { OrganisationScope } from '../with-organisation'

/** Who a vehicle is, and its latest score at one horizon. */
export type VehicleHead = {
  unit: string
  plate: string | null
  vin: string | null
  familyKey: string
  /** As the library names the engine; its key where nothing was scored. */
  family: string
  site: string | null
  customer: string | null
  contact: string | null
  status: 'active' | 'stock' | 'sold' | 'retired'
  leftOn: Day | null
  /** How long a sold vehicle is under cover. */
  coverUntilOn: Day | null
  coverUntilKm: number | null
  duty: 'short' | 'mixed' | 'long'
  history: 'full' | 'none'
  watchedFromKm: number | null
  watchedFromOn: Day | null
  /** Null for a vehicle that is not scored: sold or retired, or there is no library yet. */
  score: HeadScore | null
}

export type HeadScore = {
  standing: Standing
  /** Of the leading component; where none is assessed, why it could not be scored (null: its engine is not known). */
  speaks: string | null
  asOf: Day
  odometerKm: number | null
  odometerReadOn: Day | null
  odometerEstimated: boolean
  kmPerDay: number
  /** Whether it stands: then no distance left is told. */
  stands: boolean
  combined: number | null
  leading: { name: string; place: Place; position: number; pFail: number } | null
  lastFullScanOn: Day | null
  lastLookedAtOn: Day | null
  weakPointsCovered: number
}

const EPOCH = Prisma.sql`date '1970-01-01'`

/** The vehicle of a number; null where there is none. */
export async function readVehicleHead(
  { tx }: OrganisationScope,
  unit: string,
  horizonDays: number,
): Promise<VehicleHead | null> {
  const [found] = await tx.$queryRaw<VehicleHead[]>`
    select vehicle.unit, vehicle.plate, vehicle.vin, vehicle.family as "familyKey", vehicle.site, vehicle.customer,
      vehicle.contact, coalesce(score.family_name, vehicle.family) as family, vehicle.status, vehicle.duty,
      coalesce(vehicle.left_on, vehicle.sold_on) - ${EPOCH} as "leftOn", vehicle.history,
      vehicle.cover_until_on - ${EPOCH} as "coverUntilOn", vehicle.cover_until_km as "coverUntilKm",
      vehicle.watched_from_km as "watchedFromKm", vehicle.watched_from_on - ${EPOCH} as "watchedFromOn",
      case when score.vehicle_id is not null then jsonb_build_object(
        'standing', case when score.assessed then score.advice else 'not-assessed' end,
        'speaks', score.speaks, 'asOf', score.as_of - ${EPOCH}, 'odometerKm', score.odometer_km,
        'odometerReadOn', score.odometer_read_on - ${EPOCH}, 'odometerEstimated', score.odometer_estimated,
        'kmPerDay', score.km_per_day, 'stands', score.standing, 'combined', score.combined,
        'leading', case when score.leading_name is not null then jsonb_build_object('name', score.leading_name,
          'place', score.leading_place, 'position', score.leading_position, 'pFail', score.p_fail) end,
        'lastFullScanOn', score.last_full_scan_on - ${EPOCH}, 'lastLookedAtOn', score.last_looked_at_on - ${EPOCH},
        'weakPointsCovered', score.weak_points_covered) end as score
    from vehicles vehicle
      left join vehicle_scores score on score.vehicle_id = vehicle.id and score.horizon_days = ${horizonDays}
    where vehicle.unit = ${unit} and vehicle.withdrawn_at is null`
  return found ?? null
}
