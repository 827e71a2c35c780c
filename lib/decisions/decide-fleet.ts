/** All that is decided of a fleet: for each vehicle what to do on one visit, what to set aside, which looks pay. */
import type { Library } from '@/lib/records/library'
import type { Settings } from '@/lib/records/settings'
import type { FleetFit } from '@/lib/scoring/family-fit'
import type { FleetVehicle } from '@/lib/scoring/fleet-vehicles'
import { plainChancesWithin } from '@/lib/scoring/score-components'
import type { Day } from '@/lib/units/dates'
import { type AdviceGround, worthwhileLooks } from './advice'
import { type Bundle, chooseBundle } from './bundle'
import { bundleCandidates } from './bundle-candidates'
import { gradeOf, gradesOf } from './grades'
import { type PartDemand, type PartsInHand, partsDemand } from './parts-demand'
import { planJobs } from './plan-jobs'
import type { PlanJob } from './plan-request'
import { isScored, VehicleScorer } from './score-fleet'
import type { Cover } from './set-aside'
import { type SetAside, setAside } from './set-aside'

export interface VehicleDecision {
  unit: string
  /** False where the library does not know the engine: then nothing is decided. */
  assessed: boolean
  /** What to do together on one visit; null where nothing is due. */
  bundle: Bundle | null
  setAside: SetAside | null
  /** The word for what is enough in four of five cases, as a share of the value; null where that is not known. */
  grade: string | null
  looks: { kind: string; worth: number }[]
  jobs: PlanJob[]
  needs: ComponentNeed[]
}

/** A component whose part may be needed. */
export interface ComponentNeed {
  unit: string
  weakPoint: string
  position: number
  part: string
  /** P(it fails within the weeks). */
  chance: number
}

export interface DecideInput {
  fleet: readonly FleetVehicle[]
  library: Library
  settings: Settings
  asOf: Day
  fit: FleetFit | null
  weeks: number
  cover: Cover
  /** Told of every vehicle that can be assessed. */
  onGround?: (ground: AdviceGround, vehicle: FleetVehicle) => void
  onProgress?: (done: number, total: number) => void
}

const WEEK = 7
const PROGRESS_EVERY = 20

/** One decision a vehicle that is active, in stock, or sold and under cover on the as-of day. */
export function decideFleet(input: DecideInput): VehicleDecision[] {
  const { asOf, library, settings, fit, onProgress } = input
  const scorer = new VehicleScorer({ library, settings, asOf, fit, horizons: [] })
  const decided = input.fleet.filter((one) => isScored(one.records, one.odometer, asOf))
  const decisions = decided.map((one, i) => {
    if (i % PROGRESS_EVERY === 0) onProgress?.(i, decided.length)
    const ground = scorer.groundOf(one)
    if (ground) input.onGround?.(ground, one)
    return decideVehicle(one, ground, input)
  })
  onProgress?.(decided.length, decided.length)
  return decisions
}

function decideVehicle(
  { records }: FleetVehicle,
  ground: AdviceGround | null,
  { weeks, cover, settings }: DecideInput,
): VehicleDecision {
  const { unit, value } = records.vehicle
  if (!ground) {
    const nothing = { bundle: null, setAside: null, grade: null, looks: [], jobs: [], needs: [] }
    return { unit, assessed: false, ...nothing }
  }
  const aside = setAside(ground, { cover })
  return {
    unit,
    assessed: true,
    bundle: chooseBundle(bundleCandidates(ground, ground.prices), ground.prices),
    setAside: aside,
    grade: gradeOf(aside.p80, value, gradesOf(settings.grades)),
    looks: worthwhileLooks(ground).map(({ kind, worth }) => ({ kind, worth })),
    jobs: planJobs(unit, ground, { weeks }),
    needs: needsOf(unit, ground, weeks),
  }
}

function needsOf(unit: string, { vehicle, clock }: AdviceGround, weeks: number): ComponentNeed[] {
  const { belief } = vehicle
  const chances = plainChancesWithin(belief, clock, { days: weeks * WEEK })
  return belief.plan.components.flatMap(({ weakPoint, position }, c) => {
    const { part, key } = weakPoint
    return part === null ? [] : [{ unit, weakPoint: key, position, part, chance: chances[c]! }]
  })
}

/**
 * How many of each part the weeks need: failures, and what is planned for certain.
 *
 * @param planned the jobs that the plan has chosen
 */
export function partsFor(
  decisions: readonly VehicleDecision[],
  planned: readonly PlanJob[],
  inHand: PartsInHand = {},
): PartDemand[] {
  const placeOf = (unit: string, weakPoint: string, position: number) =>
    JSON.stringify([unit, weakPoint, position])
  const certain = new Set(
    planned.flatMap(({ unit, weakPoint, positions }) =>
      positions.map((position) => placeOf(unit, weakPoint, position)),
    ),
  )
  const needs = decisions.flatMap((decision) => decision.needs)
  return partsDemand(
    needs.map(({ unit, weakPoint, position, part, chance }) => ({
      part,
      chance: certain.has(placeOf(unit, weakPoint, position)) ? 1 : chance,
    })),
    inHand,
  )
}
