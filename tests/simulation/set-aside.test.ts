/** What is set aside for a fleet against what its vehicles then truly cost, if nothing is done before something fails. */
import { expect, it } from 'vitest'
import { jobCost, pricesOf } from '@/lib/decisions/costs'
import { VehicleScorer } from '@/lib/decisions/score-fleet'
import { type SetAside, setAside } from '@/lib/decisions/set-aside'
import type { Library } from '@/lib/records/library'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import { simulatedLibrary } from './libraries'
import { type Random, seeded } from './random'
import { parametersOfLife } from './truth'
import { drawOnset } from './two-stage'
import { advanceLives, type Life, stateOf } from './vehicle-life'
import { type Snapshot, simulateWorld } from './world'

const AS_OF = 20_000
const DAYS = 365

/** The year as it truly comes: a part that fails is replaced by an original one, an interval that runs out as well. */
function liveOn(snapshot: Snapshot, library: Library, random: Random): number {
  const { network, truth, duty, kmPerDay } = snapshot
  const prices = pricesOf(library, DEFAULT_SETTINGS)
  const lives = snapshot.lives.map((life) => ({ ...life }))
  let cost = 0
  for (let day = 0; day < DAYS; day++) {
    advanceLives(network, lives, duty, kmPerDay, 1)
    lives.forEach((life, i) => {
      const { weakPoint } = network.parts[i]!
      const { planned, unplanned } = jobCost(weakPoint, prices)
      const isDue = weakPoint.renewEvery !== null && life.sinceRenewal >= weakPoint.renewEvery
      if (stateOf(life) === 'failed') cost += unplanned
      else if (isDue) cost += planned
      else return
      const parameters = parametersOfLife(truth, weakPoint.key, null)
      const isFlawed = parameters.pfMean > 0 && !random.chance(weakPoint.success)
      const onsetAge = isFlawed ? 0 : drawOnset(parameters, 0, random)
      const failAge = onsetAge + (parameters.pfMean > 0 ? random.exponential(parameters.pfMean) : 0)
      lives[i] = { parameters, revision: null, age: 0, onsetAge, failAge, sinceRenewal: 0 } satisfies Life
    })
  }
  return cost
}

const quantileHolds = (costs: number[], asides: SetAside[], level: 'p80' | 'p95') =>
  costs.filter((cost, i) => cost <= asides[i]![level] + asides[i]!.roundedBy).length / costs.length

it('is within 15 % of what 100 vehicles cost in a year, and enough as often as it says', () => {
  const plain = simulatedLibrary('dunlin', 'documented')
  const library: Library = {
    ...plain,
    labourRate: 80,
    dayOffRoad: 120,
    families: plain.families.map((family) => ({
      ...family,
      weakPoints: family.weakPoints.map((each, i) => ({
        ...each,
        cost: { parts: 80 + 60 * i, hours: 1 + i / 2, sharedHours: 0, failureExtra: 150 * i, daysOff: 1 },
      })),
    })),
  }
  const days = { firstDay: 17_900, spreadDays: 900, lastDay: AS_OF, snapshots: [AS_OF] }
  const world = simulateWorld({ seed: 77, library, vehicles: 100, ...days })
  const fleet = new Map(fleetVehicles(world.records, AS_OF).map((one) => [one.records.vehicle.unit, one]))
  const scorer = new VehicleScorer({ library, settings: DEFAULT_SETTINGS, asOf: AS_OF, horizons: [] })
  const asides = world.snapshots.map(({ unit }) =>
    setAside(scorer.groundOf(fleet.get(unit)!)!, { cover: { days: DAYS, km: null } }),
  )
  const random = seeded(3)
  const costs = world.snapshots.map((snapshot) => liveOn(snapshot, library, random))
  const sum = (values: number[]) => values.reduce((a, b) => a + b, 0)
  const ratio = sum(asides.map(({ mean }) => mean)) / sum(costs)
  expect(ratio).toBeGreaterThan(0.85)
  expect(ratio).toBeLessThan(1.15)
  expect(quantileHolds(costs, asides, 'p80')).toBeGreaterThan(0.72)
  expect(quantileHolds(costs, asides, 'p95')).toBeGreaterThan(0.9)
}, 120_000)
