/** One vehicle, watched from new at 60 km a day with a reading every month, and what happens to it at odometers. */

import type { Library } from '@/lib/records/library'
import { ODOMETER_SETTINGS } from '@/lib/records/odometer-settings'
import type { ChangeRow, CheckRow, CodeRow, Records, RepairRow, SignAt, VehicleRow } from '@/lib/records/rows'
import { trustOdometer } from '@/lib/records/trusted-odometer'
import type { Usage } from '@/lib/records/usage'
import { vehicleClock } from '@/lib/records/vehicle-clock'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { compileEngine } from '@/lib/scoring/engine-plan'
import { type FollowedVehicle, followVehicle } from '@/lib/scoring/follow-vehicle'
import { statedParameters } from '@/lib/scoring/parameters'
import { watchOf } from '@/lib/scoring/watch'
import { libraryOf } from '../simulation/libraries'
import {
  changeRow,
  checkRow,
  codeRow,
  readingRow,
  recordsOf,
  repairRow,
  vehicleRow,
} from '../simulation/record-rows'

export const FIRST_DAY = 18_000
export const KM_PER_DAY = 60
export const dayAt = (km: number) => FIRST_DAY + Math.round(km / KM_PER_DAY)

export type Happening =
  | { check: Partial<CheckRow> & Pick<CheckRow, 'kind'> }
  | { code: Partial<CodeRow> & Pick<CodeRow, 'code'> }
  | { repair: Partial<RepairRow> & Pick<RepairRow, 'weakPoint'> }
  | { change: Partial<ChangeRow> & Pick<ChangeRow, 'kind'> }
/** Odometer, and what happened there; rows of one odometer keep their order. */
export type History = readonly (readonly [km: number, happening: Happening])[]

export const at = (sign: string, position: number | null = null): SignAt => ({ sign, position })
export const looked = (kind: CheckRow['kind'], ...seen: SignAt[]): Happening => ({ check: { kind, seen } })
export const repaired = (weakPoint: string, more: Partial<RepairRow> = {}): Happening => ({
  repair: { weakPoint, ...more },
})
export const opened = (weakPoint: string, found: RepairRow['found'], more: Partial<RepairRow> = {}) =>
  repaired(weakPoint, { action: 'inspect', found, ...more })

/** The engine `plover-22` with four cylinders, 80 an hour and 120 for a day off the road. */
export const engine = (weakPoints: object[], signs: object[] = [], more: object = {}): Library =>
  libraryOf({
    labourRate: 80,
    dayOffRoad: 120,
    families: [{ key: 'plover-22', name: 'Plover 2.2', cylinders: 4, weakPoints, signs, ...more }],
  })

/** A weak point that wears with distance; p10, p50 and the median warning in km. */
export const point = (key: string, p10: number, p50: number, warning: number, more: object = {}) => ({
  key,
  component: key,
  failureMode: 'fails',
  confidence: 'experience',
  onset: { p10, p50 },
  warning,
  cost: { parts: 150, hours: 1.5, failureExtra: 500, daysOff: 1 },
  ...more,
})

export const sign = (key: string, kind: string, causes: Record<string, number>, more: object = {}) => ({
  key,
  label: key,
  kind,
  causes: Object.entries(causes).map(([weakPoint, detect]) => ({ weakPoint, detect })),
  ...more,
})

export interface Said {
  vehicle?: Partial<VehicleRow>
  /** Odometer from which readings are on record. */
  readFromKm?: number
}

/** The vehicle T1 with its history, as records of an organisation. */
export function recordsAt(asOfKm: number, history: History, { vehicle, readFromKm = 0 }: Said = {}): Records {
  const unit = 'T1'
  const stamp = (km: number) => ({ unit, odometerKm: km })
  const readings = Array.from({ length: Math.floor((asOfKm - readFromKm) / 1800) + 1 }, (_, i) => {
    return readFromKm + i * 1800
  })
  const rows = <T>(pick: (km: number, happening: Happening) => T[]) =>
    history.flatMap(([km, h]) => pick(km, h))
  return recordsOf({
    vehicles: [
      vehicleRow({ unit, family: 'plover-22', builtOn: FIRST_DAY, inServiceOn: FIRST_DAY, ...vehicle }),
    ],
    readings: [...readings, asOfKm].map((km) => readingRow({ ...stamp(km), readOn: dayAt(km) })),
    checks: rows((km, h) =>
      'check' in h ? [checkRow({ ...stamp(km), checkedOn: dayAt(km), ...h.check })] : [],
    ),
    codes: rows((km, h) => ('code' in h ? [codeRow({ ...stamp(km), seenOn: dayAt(km), ...h.code })] : [])),
    repairs: rows((km, h) =>
      'repair' in h ? [repairRow({ ...stamp(km), doneOn: dayAt(km), ...h.repair })] : [],
    ),
    changes: rows((km, h) =>
      'change' in h ? [changeRow({ ...stamp(km), on: dayAt(km), ...h.change })] : [],
    ),
  })
}

/** Use as it is: 60 km a day, without doubt. */
const CERTAIN: Usage = { kmPerDay: KM_PER_DAY, logSd: 0, standing: false, basis: 'readings' }

export type OneVehicle = ReturnType<typeof followOne>

/** Follows the vehicle to an odometer and finds its components by weak point and position. */
export function followOne(
  library: Library,
  asOfKm: number,
  history: History,
  said: Said & { central?: boolean; usage?: Usage } = {},
) {
  const [records] = groupByVehicle(recordsAt(asOfKm, history, said))
  const [family] = library.families
  if (!records || !family) throw new Error('one vehicle and one family are needed')
  const asOf = dayAt(asOfKm)
  const odometer = trustOdometer(records, { capKmPerDay: ODOMETER_SETTINGS.capKmPerDay, upTo: asOf })
  const clock = vehicleClock(records, odometer, said.usage ?? CERTAIN, asOf)
  const plan = compileEngine(family, records.vehicle.variant, true)
  const parameters = statedParameters(family, said.central ? 'central' : 'stated')
  const watch = watchOf(records, clock, asOf)
  const followed: FollowedVehicle = followVehicle({ records, plan, parameters, clock, watch, asOf })
  const indexOf = (weakPoint: string, position = 1): number => {
    const index = plan.components.findIndex((c) => c.weakPoint.key === weakPoint && c.position === position)
    if (index < 0) throw new Error(`no component ${weakPoint} ${position}`)
    return index
  }
  return {
    followed,
    belief: followed.belief,
    clock,
    parameters,
    indexOf,
    /** The belief about one component. */
    of: (weakPoint: string, position = 1) => followed.belief.beliefs[indexOf(weakPoint, position)]!,
    developing: (weakPoint: string, position = 1) => followed.belief.developing(indexOf(weakPoint, position)),
  }
}
