/** Learning in the past: at each cut-off anew, from what was on record then. */
import { VehicleScorer } from '@/lib/decisions/score-fleet'
import type { Library } from '@/lib/records/library'
import type { Settings } from '@/lib/records/settings'
import type { FleetFit } from '@/lib/scoring/family-fit'
import { fitFleet } from '@/lib/scoring/fit-fleet'
import { type FleetVehicle, fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import type { Day } from '@/lib/units/dates'
import { inHindsight, lastDayOn, statedWarning, type WarningMean } from './outcomes'
import { cutOffsOf, type ReplayPlan, type ReplayWork } from './replay'

/** δ of each weak point that was learned, by family. */
export type Warnings = Record<string, Record<string, number>>

/** Cut-offs that learn on from one another. Longer ones save little more; more of them keep more processes at work. */
const RUN_LENGTH = 6

/**
 * The cut-offs in runs. The first of a run learns anew; each next one begins from what the one before it, which knew
 * less, had learned. That saves half of the learning, and leaves nothing to chance: the runs are the same however
 * many processes share them.
 */
export function runsOf(plan: ReplayPlan): Day[][] {
  const days = cutOffsOf(plan)
  const count = Math.ceil(days.length / RUN_LENGTH)
  return Array.from({ length: count }, (_, k) => days.slice(RUN_LENGTH * k, RUN_LENGTH * (k + 1)))
}

/** Whoever learns through the days of one run, in their order. */
export class RunLearner {
  /** What the latest of its days taught. */
  learned: FleetFit | null = null

  constructor(private readonly terms: { library: Library; settings: Settings; days: number }) {}

  /** The product as it would have been on that day. */
  readonly scorer = (fleet: readonly FleetVehicle[], cutOff: Day): VehicleScorer => {
    const { library, settings, days } = this.terms
    this.learned = fitFleet({ fleet, library, asOf: cutOff, earlier: this.learned })
    return new VehicleScorer({ library, asOf: cutOff, horizons: [{ days }], settings, fit: this.learned })
  }
}

/**
 * What all records teach of how long a warning lasts: outcomes are read with it.
 *
 * @param earlier what the last cut-off taught
 */
export function warningsOf(
  { records, library }: Pick<ReplayWork, 'records' | 'library'>,
  earlier: FleetFit | null,
): Warnings {
  const asOf = lastDayOn(records)
  const fleet = fleetVehicles(inHindsight(records), asOf)
  const { families } = fitFleet({ fleet, library, asOf, earlier })
  return Object.fromEntries(
    Array.from(families, ([family, { weakPoints }]) => [
      family,
      Object.fromEntries(Array.from(weakPoints, ([key, { mode }]) => [key, mode.pfMean])),
    ]),
  )
}

/** δ as learned; as stated where it was not. */
export const learnedWarning =
  (warnings: Warnings | null): WarningMean =>
  (weakPoint, family) =>
    warnings?.[family]?.[weakPoint.key] ?? statedWarning(weakPoint, family)
