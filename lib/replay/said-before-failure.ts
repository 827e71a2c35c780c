/** The chance of one component on days before it failed, worked out afterwards from the records as they stood then. */
import { type ComponentScore, isScored, VehicleScorer } from '@/lib/decisions/score-fleet'
import type { Library } from '@/lib/records/library'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import type { Day } from '@/lib/units/dates'
import { type PastRecords, recordsAsOf } from './records-as-of'

export type SaidScore = { asOf: Day } & Pick<ComponentScore, 'pFail' | 'pLow' | 'pHigh' | 'advice'>

/** What would have been said on a day, and the vehicle's records as they stood then. */
export type WorkedOut = SaidScore & { records: VehicleRecords }

interface Asked {
  records: PastRecords
  library: Library
  unit: string
  weakPoint: string
  position: number
  /** The horizon. */
  days: number
}

/**
 * Scores a component as of one day: nothing that is dated or was entered later is seen. What was learned since has seen
 * how it ended, so that the chance is the one of the library alone, as it stands today.
 *
 * @returns null where it would not have been scored on that day
 */
export function workedOutOn(
  { records, library, unit, weakPoint, position, days }: Asked,
  asOf: Day,
): WorkedOut | null {
  const fleet = fleetVehicles(recordsAsOf(records, asOf), asOf)
  const vehicle = fleet.find((each) => each.records.vehicle.unit === unit)
  if (!vehicle || !isScored(vehicle.records, vehicle.odometer, asOf)) return null
  const families = library.families.filter(({ key }) => key === vehicle.records.vehicle.family)
  const { settings } = records
  const scorer = new VehicleScorer({
    library: { ...library, families },
    asOf,
    horizons: [{ days }],
    settings,
  })
  const score = scorer
    .score(vehicle)
    .components.find((each) => each.weakPoint === weakPoint && each.position === position)
  if (!score) return null
  const { pFail, pLow, pHigh, advice } = score
  return { asOf, pFail, pLow, pHigh, advice, records: vehicle.records }
}

const STEP_DAYS = 30
const STEPS = 12

/** The days that are asked about: the last one before the failure, and each month before it for a year, the earliest first. */
export const daysBefore = (failedOn: Day): Day[] =>
  Array.from({ length: STEPS + 1 }, (_, k) => failedOn - 1 - STEP_DAYS * (STEPS - k))

/** By so much a chance has to move to be told anew; scores are kept by the same rule. */
const MOVED = 1.1

/** Of scores in the order of their days: the first, those where advice or chance moved since the last told, and the last. */
export function whereMoved<Score extends SaidScore>(scores: readonly Score[]): Score[] {
  const told: Score[] = []
  scores.forEach((score, i) => {
    const last = told.at(-1)
    const moved =
      !last ||
      last.advice !== score.advice ||
      Math.max(last.pFail, score.pFail) >= MOVED * Math.min(last.pFail, score.pFail)
    if (moved || i === scores.length - 1) told.push(score)
  })
  return told
}

/** At most so many of them: first and last, those where the advice changed, then those with the widest leaps. */
export function fewest<Score extends SaidScore>(scores: readonly Score[], most: number): Score[] {
  const weight = (score: Score, i: number): number => {
    const before = scores[i - 1]
    if (!before || i === scores.length - 1) return Number.POSITIVE_INFINITY
    const leap = Math.abs(Math.log(score.pFail / before.pFail)) || 0 // of a chance that is nothing on both days
    return before.advice === score.advice ? leap : 1000 + leap
  }
  const kept = scores
    .map((score, i) => ({ i, weight: weight(score, i) }))
    .sort((a, b) => (a.weight === b.weight ? a.i - b.i : b.weight - a.weight))
    .slice(0, most)
  return kept.sort((a, b) => a.i - b.i).map(({ i }) => scores[i]!)
}
