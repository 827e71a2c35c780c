/** What the product and its rivals would have said on a past day, from what was on record then. */
import { jobCost, type Prices, pricesOf } from '@/lib/decisions/costs'
import { VehicleScorer } from '@/lib/decisions/score-fleet'
import type { Family, Library, WeakPoint } from '@/lib/records/library'
import type { FleetVehicle } from '@/lib/scoring/fleet-vehicles'
import type { FollowedAgain } from '@/lib/scoring/follow-again'
import type { Day } from '@/lib/units/dates'
import { fleetOn, type VehicleThen } from './inner/fleet-clocks'
import type { Said } from './judge'
import { type PlainForecasts, plainChances } from './plain-rivals'
import { type PastRecords, recordsAsOf } from './records-as-of'

/** Who scores at a cut-off, given the vehicles as they were visible then. */
export type Learner = (fleet: readonly FleetVehicle[], cutOff: Day) => VehicleScorer

/** Whose past it is, and how far ahead is asked. */
export interface Asked {
  records: PastRecords
  library: Library
  /** The horizon. */
  days: number
  /** Vehicles as they were followed under the library on an earlier day; left out: from their first day. */
  followed?: FollowedAgain
}

/**
 * Every component that was at work on the cut-off, with all chances. Of the records only what was known then is seen.
 *
 * @param learn left out: nothing is learned, and the product says what the library says
 */
export function saidOn({ records, library, days, followed }: Asked, cutOff: Day, learn?: Learner): Said[] {
  const { settings } = records
  const prices = pricesOf(library, settings)
  const fleet = fleetOn(recordsAsOf(records, cutOff), cutOff)
  const terms = { library, asOf: cutOff, horizons: [{ days }], settings }
  const stated = new VehicleScorer({ ...terms, follow: followed?.follow })
  const scorer = learn?.(fleet, cutOff)
  const scorers = { product: scorer ?? stated, ages: scorer ?? new VehicleScorer(terms), library: stated }
  return library.families.flatMap((family) => {
    const ofFamily = fleet.filter(({ records: { vehicle } }) => vehicle.family === family.key)
    const plain = plainChances(family, ofFamily, cutOff, days)
    return ofFamily
      .filter(({ scored }) => scored)
      .flatMap((vehicle) => byTheProduct(vehicle, scorers, days))
      .flatMap((each) => besideRivals(each, { family, plain, prices, cutOff }))
  })
}

type OfTheProduct = Pick<Said, 'unit' | 'family' | 'weakPoint' | 'position' | 'booked'> & {
  chances: Pick<Said['chances'], 'product' | 'ages' | 'library'>
}

/** Who says what: learned and as stated; of a vehicle that nobody looked at, too. */
type Scorers = Record<keyof OfTheProduct['chances'], VehicleScorer>

/** A vehicle's components, with its signs and without, learned and as stated. */
function byTheProduct(vehicle: VehicleThen, scorers: Scorers, days: number): OfTheProduct[] {
  const { unit, family } = vehicle.records.vehicle
  const product = scorers.product.chances(vehicle, { days })
  const ages = wasLookedAt(vehicle) ? scorers.ages.chances(unseen(vehicle), { days }) : product
  const isLibrary = scorers.library === scorers.product
  const library = isLibrary ? product : scorers.library.chances(vehicle, { days })
  const advised = product.advised()
  return product.components.map(({ weakPoint, position, pFail }, c) => ({
    unit,
    family,
    weakPoint,
    position,
    booked: advised[c]!,
    chances: {
      product: pFail,
      ages: ages.components[c]!.pFail,
      library: library.components[c]!.pFail,
    },
  }))
}

const wasLookedAt = ({ records: { codes, checks } }: VehicleThen) => codes.length + checks.length > 0

/** The same vehicle, as if nobody had ever looked at its engine. */
const unseen = (vehicle: VehicleThen): VehicleThen => ({
  ...vehicle,
  clocked: undefined,
  records: { ...vehicle.records, codes: [], checks: [] },
})

type Beside = { family: Family; plain: PlainForecasts; prices: Prices; cutOff: Day }

/** Nothing for a part that waited for its repair. */
function besideRivals(one: OfTheProduct, { family, plain, prices, cutOff }: Beside): Said[] {
  const rivals = plain(one.unit, one.weakPoint, one.position)
  if (!rivals) return []
  const cost = jobCost(weakPointOf(family, one.weakPoint), prices)
  return [{ ...one, ...cost, chances: { ...one.chances, ...rivals }, cutOff }]
}

export function weakPointOf(family: Family, key: string): WeakPoint {
  const found = family.weakPoints.find((weakPoint) => weakPoint.key === key)
  if (!found) throw new Error(`${family.key} has no weak point ${key}`)
  return found
}
