/** Learning in the past: at each cut-off anew, from what was on record then. */
import { VehicleScorer } from '@/lib/decisions/score-fleet'
import type { FleetFit } from '@/lib/scoring/family-fit'
import { fitFleet } from '@/lib/scoring/fit-fleet'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import { lastDayOn, statedWarning, type WarningMean } from './outcomes'
import type { Learner, ReplayInput, ReplayWork } from './replay'

/** What a replay needs. Where the product learns in it, outcomes are read with what all records teach. */
export function replayInput({ records, library, plan, learning }: ReplayWork): ReplayInput {
  if (!learning) return { records, library, plan }
  const asOf = lastDayOn(records)
  const learned = fitFleet({ fleet: fleetVehicles(records, asOf), library, asOf })
  const learn: Learner = (fleet, cutOff) =>
    new VehicleScorer({
      library,
      asOf: cutOff,
      horizons: [{ days: plan.days }],
      settings: records.settings,
      fit: fitFleet({ fleet, library, asOf: cutOff }),
    })
  return { records, library, plan, learn, warningMean: learnedWarning(learned) }
}

const learnedWarning =
  ({ families }: FleetFit): WarningMean =>
  (weakPoint, family) =>
    families.get(family)?.weakPoints.get(weakPoint.key)?.mode.pfMean ?? statedWarning(weakPoint, family)
