/** Decisions about a fleet: a visit, what to set aside, looks, jobs and parts, on one core, for beliefs that are there. */

import { type AdviceGround, worthwhileLooks } from '@/lib/decisions/advice'
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

const VEHICLES = 2200
const WARM = 200
const SCALED_TO = 10_000
const COVER = { days: 365, km: 15_000 }
const WEEKS = 8

/** Scoring's own target, 20 s for 2,000 vehicles, in proportion. */
const FOLLOWED_WITHIN = 100

/** Following the vehicles is scoring, which has a target of its own: it is told apart. */
export function decideBench(): BenchEntry[] {
  const library = simulatedLibrary('knot', 'experience')
  const { records } = simulateWorld({ seed: 7, library, vehicles: VEHICLES, ...FLEET })
  const asOf = FLEET.lastDay
  const fleet = fleetVehicles(records, asOf)
  const scorer = new VehicleScorer({ library, settings: DEFAULT_SETTINGS, asOf, fit: null, horizons: [] })
  const groundOf = (one: (typeof fleet)[number]): AdviceGround => {
    const ground = scorer.groundOf(one)
    if (!ground) throw new Error(`${one.records.vehicle.unit} cannot be assessed`)
    for (const belief of ground.vehicle.belief.beliefs) belief.currentNodes()
    return ground
  }
  // Vehicle by vehicle, as the command has it: what is reckoned of one is let go before the next.
  const decide = (vehicles: typeof fleet): { following: number; deciding: number } => {
    const seconds = { following: 0, deciding: 0 }
    for (const one of vehicles) {
      let followed: AdviceGround | null = null
      seconds.following += cpuSeconds(() => {
        followed = groundOf(one)
      })
      const ground = followed!
      seconds.deciding += cpuSeconds(() => {
        setAside(ground, { cover: COVER })
        chooseBundle(bundleCandidates(ground, ground.prices), ground.prices)
        worthwhileLooks(ground)
        planJobs(one.records.vehicle.unit, ground, { weeks: WEEKS })
        plainChancesWithin(ground.vehicle.belief, ground.clock, { days: 7 * WEEKS })
      })
    }
    return seconds
  }
  decide(fleet.slice(0, WARM))
  const measured = fleet.slice(WARM)
  const { following, deciding } = decide(measured)
  const scaled = (seconds: number) => (seconds / measured.length) * SCALED_TO
  const what = `${SCALED_TO.toLocaleString('en')} vehicles of 11 components: ${measured.length} measured, the rest by proportion`
  return [
    atMost(`following ${what}`, scaled(following), 's of processor', FOLLOWED_WITHIN),
    atMost(`decisions for ${what}`, scaled(deciding), 's of processor', 30),
  ]
}
