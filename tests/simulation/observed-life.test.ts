/** Where the counted share of parts that last lies, in fleets whose truth is known. */
import { describe, expect, it } from 'vitest'
import type { LivedLife } from '@/lib/model/lived-life'
import { fitFleet } from '@/lib/scoring/fit-fleet'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import { type ObservedSteps, observedLife } from '@/lib/scoring/observed-life'
import { simulatedLibrary } from './libraries'
import { liveAndWrite, WORKSHOP } from './lived-lives'
import { seeded } from './random'
import { truthAsStated } from './truth'
import { soundChance, stepBetween } from './two-stage'
import { simulateWorld } from './world'

const AS_OF = 20_200

const library = simulatedLibrary('knot', 'experience')
const [family] = library.families
const truth = truthAsStated(family!).parameters

function learnedFleet() {
  const days = { firstDay: 17_900, spreadDays: 1_200, lastDay: AS_OF, snapshots: [] }
  const { records } = simulateWorld({ seed: 5, library, vehicles: 200, ...days })
  const fit = fitFleet({ fleet: fleetVehicles(records, AS_OF), library, asOf: AS_OF })
  return fit.families.get(family!.key)!
}

const ageBy = (started: number, { scale, shape }: { scale: number; shape: number }) =>
  scale * (-Math.log(1 - started)) ** (1 / shape)

const goneBy = ({ shares }: ObservedSteps, age: number) =>
  1 - (shares.findLast(([at]) => at <= age)?.[1] ?? 1)

describe('the share seen gone in a fleet', () => {
  const fit = learnedFleet()

  it.each([0.1, 0.3, 0.5])('lies between failed and begun to go, where %d have begun', (started) => {
    for (const { key } of family!.weakPoints) {
      const parameters = truth.get(key)!
      const steps = fit.weakPoints.get(key)!.observed!.steps!
      const age = ageBy(started, parameters)
      const error = Math.sqrt((started * (1 - started)) / steps.lives)
      const seen = goneBy(steps, age)
      expect(soundChance(parameters, age)).toBeCloseTo(1 - started, 12)
      expect(seen, key).toBeGreaterThan(stepBetween(parameters, 0, age).failSound - 3 * error)
      expect(seen, key).toBeLessThan(started + 3 * error)
    }
  })
})

describe('where what was found is not written down', () => {
  const COIL = { shape: 1.4, scale: 150_000, pfMean: 30_000 }
  const lives = liveAndWrite(COIL, WORKSHOP, 4_000, seeded(3))
  const unwritten = lives.map((life): LivedLife => {
    const { kind, age } = life.ending
    return kind === 'developing' ? { ...life, ending: { kind: 'open', age, renewed: true } } : life
  })
  const age = ageBy(0.5, COIL)
  const seen = (some: LivedLife[]) =>
    goneBy(observedLife(some, { unknownStart: 0, beforeWatch: 0 }, { warns: true, factors: [] }).steps!, age)
  const failed = stepBetween(COIL, 0, age).failSound

  it('the share falls below even that of the failed, as it does not where it is', () => {
    expect(seen(lives)).toBeGreaterThan(failed)
    expect(seen(lives)).toBeLessThan(0.5)
    expect(seen(unwritten)).toBeLessThan(failed - 0.03)
  })
})
