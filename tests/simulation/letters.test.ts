/** What letters truly save whoever follows them, where every vehicle's lives are other than stated, as far as the library is unsure. */
import { expect, it } from 'vitest'
import { callGround, chanceAllGood, type LetterCandidate } from '@/lib/decisions/call-ground'
import { longRunRates, pricesOf } from '@/lib/decisions/costs'
import { VehicleScorer } from '@/lib/decisions/score-fleet'
import { worthACall } from '@/lib/decisions/worth-a-call'
import type { Library } from '@/lib/records/library'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import { statedParameters } from '@/lib/scoring/parameters'
import { simulatedLibrary } from './libraries'
import { seeded } from './random'
import { type Truth, truthDrawn } from './truth'
import { advanceLives, stateOf } from './vehicle-life'
import { type Snapshot, simulateWorld } from './world'

const AS_OF = 20_000
const DAYS = 90

/** The library as it would be if its author had known the truth of one vehicle. */
function libraryOfTruth(library: Library, { parameters }: Truth): Library {
  const families = library.families.map((family) => ({
    ...family,
    weakPoints: family.weakPoints.map((each) => {
      const { scale, shape, pfMean } = parameters.get(each.key)!
      const quantile = (p: number) => scale * (-Math.log(1 - p)) ** (1 / shape)
      return { ...each, onset: { p10: quantile(0.1), p50: quantile(0.5) }, warning: pfMean * Math.LN2 }
    }),
  }))
  return { ...library, families }
}

/**
 * What doing the jobs of a letter saves against leaving them 90 days, by what is true: the extra cost of a part that
 * fails by then, less the use of its life at its true long-run cost. A part that is going fails by then with its true
 * chance; a good one as it does.
 */
function trulySaves(members: readonly LetterCandidate[], snapshot: Snapshot, library: Library): number {
  const { network, truth, duty, kmPerDay } = snapshot
  const known = libraryOfTruth(library, truth)
  const [family] = known.families
  const rates = longRunRates(pricesOf(known, DEFAULT_SETTINGS))
  const parameters = statedParameters(family!, 'central')
  const later = snapshot.lives.map((life) => ({ ...life }))
  advanceLives(network, later, duty, kmPerDay * DAYS, DAYS)
  return members.reduce((sum, { weakPoint, position, costs }) => {
    const i = network.parts.findIndex(
      (part) => part.weakPoint.key === weakPoint && part.position === position,
    )
    const [now, then] = [snapshot.lives[i]!, later[i]!]
    const aged = then.age - now.age
    const fails =
      stateOf(now) === 'developing'
        ? 1 - Math.exp(-aged / now.parameters.pfMean)
        : Number(stateOf(then) === 'failed')
    const used = Math.min(aged, now.failAge - now.age)
    const rate = rates(family!.weakPoints.find(({ key }) => key === weakPoint)!, null, parameters)
    return sum + fails * (costs.unplanned - costs.planned) - rate * used
  }, 0)
}

it('save on the mean, about what they say, and are spent for nothing as often as they say', () => {
  const plain = simulatedLibrary('dunlin', 'experience')
  const library: Library = {
    ...plain,
    ...{ labourRate: 64, dayOffRoad: 40, visit: 20 },
    families: plain.families.map((family) => ({
      ...family,
      weakPoints: family.weakPoints.map((each, i) => ({
        ...each,
        cost: {
          parts: 60 + 40 * i,
          hours: 1 + i / 2,
          sharedHours: 0,
          failureExtra: 250 + 100 * i,
          daysOff: 3,
        },
      })),
    })),
  }
  const days = { firstDay: 17_700, spreadDays: 900, lastDay: AS_OF, snapshots: [AS_OF] }
  const truthOf = (vehicle: number) => truthDrawn(library.families[0]!, seeded(1000 + vehicle))
  const world = simulateWorld({ seed: 41, library, vehicles: 120, ...days, truthOf })
  const fleet = new Map(fleetVehicles(world.records, AS_OF).map((one) => [one.records.vehicle.unit, one]))
  const scorer = new VehicleScorer({ library, settings: DEFAULT_SETTINGS, asOf: AS_OF, horizons: [] })
  const letters = world.snapshots.flatMap((snapshot) => {
    const one = fleet.get(snapshot.unit)!
    const ground = callGround(scorer.groundOf(one)!, one.records)
    const call = worthACall({
      ...{ ...ground, assessed: true, proposals: [], customer: 'Ann', optedOutOn: null, writtenOn: null },
      ...{ lastRecordOn: AS_OF, today: AS_OF, letterEveryDays: 90, quietMonths: 15 },
    })
    if (call.kind !== 'write') return []
    const { members, saving, savingBand } = call.bundle
    const isGood = members.every(({ weakPoint, position }) => {
      const i = snapshot.network.parts.findIndex(
        (p) => p.weakPoint.key === weakPoint && p.position === position,
      )
      return stateOf(snapshot.lives[i]!) === 'sound'
    })
    const allGood = chanceAllGood(ground, members)
    return [{ saving, low: savingBand.low, saves: trulySaves(members, snapshot, library), allGood, isGood }]
  })
  const sum = (of: (letter: (typeof letters)[number]) => number) =>
    letters.reduce((all, each) => all + of(each), 0)
  const [said, low] = [sum(({ saving }) => saving), sum((each) => each.low)]
  const truly = sum(({ saves }) => saves)
  expect(letters.length).toBeGreaterThanOrEqual(10)
  for (const letter of letters) expect(letter.low).toBeGreaterThan(0)
  expect(truly).toBeGreaterThan(low)
  // By the true lives, of a dozen letters: no closer than chance has it.
  expect(truly / said).toBeGreaterThan(0.7)
  expect(truly / said).toBeLessThan(1.4)
  const [expected, found] = [sum(({ allGood }) => allGood), sum(({ isGood }) => Number(isGood))]
  const variance = sum(({ allGood }) => allGood * (1 - allGood))
  expect(Math.abs(found - expected)).toBeLessThan(2.5 * Math.sqrt(variance))
}, 300_000)
