/** Decisions about a fleet: a visit, what to set aside, looks, jobs and parts, on one core, for beliefs that are there. */

import { worthwhileLooks } from '@/lib/decisions/advice'
import { chooseBundle } from '@/lib/decisions/bundle'
import { bundleCandidates } from '@/lib/decisions/bundle-candidates'
import { planJobs } from '@/lib/decisions/plan-jobs'
import { VehicleScorer } from '@/lib/decisions/score-fleet'
import { setAside } from '@/lib/decisions/set-aside'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import { plainChancesWithin } from '@/lib/scoring/score-components'
import { simulatedLibrary } from '../simulation/libraries'
import { simulateWorld } from '../simulation/world'
import { atMost, type BenchEntry, cpuSeconds } from './bench-entry'
import { FLEET } from './whole-fleet'

const VEHICLES = 600
const WARM = 200
const SCALED_TO = 10_000
const COVER = { days: 365, km: 15_000 }
const WEEKS = 8

/** Following the vehicles is scoring, which has a target of its own: it is not counted. */
export function decideBench(): BenchEntry[] {
  const library = simulatedLibrary('knot', 'experience')
  const { records } = simulateWorld({ seed: 7, library, vehicles: VEHICLES, ...FLEET })
  const asOf = FLEET.lastDay
  const fleet = fleetVehicles(records, asOf)
  const scorer = new VehicleScorer({ library, settings: DEFAULT_SETTINGS, asOf, fit: null, horizons: [] })
  const decide = (vehicles: typeof fleet): number =>
    vehicles.reduce((sum, one) => {
      const ground = scorer.groundOf(one)
      if (!ground) throw new Error(`${one.records.vehicle.unit} cannot be assessed`)
      for (const belief of ground.vehicle.belief.beliefs) belief.currentNodes()
      return (
        sum +
        cpuSeconds(() => {
          setAside(ground, { cover: COVER })
          chooseBundle(bundleCandidates(ground, ground.prices), ground.prices)
          worthwhileLooks(ground)
          planJobs(one.records.vehicle.unit, ground, { weeks: WEEKS })
          plainChancesWithin(ground.vehicle.belief, ground.clock, { days: 7 * WEEKS })
        })
      )
    }, 0)
  decide(fleet.slice(0, WARM))
  const measured = fleet.slice(WARM)
  const seconds = (decide(measured) / measured.length) * SCALED_TO
  return [
    atMost(
      `decisions for ${SCALED_TO.toLocaleString('en')} vehicles of 11 components: ${measured.length} measured, the rest by proportion`,
      seconds,
      's of processor',
      30,
    ),
  ]
}
