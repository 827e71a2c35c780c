/** Counts of failures and due renewals: against closed forms, the renewal function, and lives lived one by one. */
import { describe, expect, it } from 'vitest'
import { renewalFunction, renewalGrid } from '@/lib/model/renewal'
import {
  countsAhead,
  countsFromNew,
  countsTogether,
  type EventCounts,
  type PartsToCome,
  withoutRareFailures,
} from '@/lib/model/renewals-ahead'
import { logSurvival } from '@/lib/model/two-stage'
import { seeded } from '../simulation/random'

const CELLS = 80
const curve = (survival: (share: number) => number, moments: number) =>
  Float64Array.from({ length: moments + 1 }, (_, m) => survival(m / moments))

function ahead(survival: (share: number) => number, more: Partial<PartsToCome> & { dueAfter?: number } = {}) {
  const { dueAfter = Infinity, ...parts } = more
  const fromNew = countsFromNew({
    survives: curve(survival, 2 * CELLS),
    dueEvery: Infinity,
    mostFailures: 12,
    mostDue: 0,
    ...parts,
  })
  return countsAhead({ failed: false, survives: curve(survival, CELLS), dueAfter }, fromNew)
}

const total = ({ chance }: EventCounts) => chance.reduce((a, b) => a + b, 0)
const meanFailures = ({ chance, mostDue }: EventCounts) =>
  chance.reduce((sum, p, i) => sum + p * Math.floor(i / (mostDue + 1)), 0)

describe('failures within a period', () => {
  it('are Poisson where parts fail without ageing', () => {
    const { chance } = ahead((share) => Math.exp(-1.5 * share))
    let poisson = Math.exp(-1.5)
    for (let n = 0; n <= 6; n++) {
      expect(chance[n]).toBeCloseTo(poisson, 4)
      poisson *= 1.5 / (n + 1)
    }
  })

  it('have the renewal function as their mean', () => {
    const life = { shape: 2.5, scale: 60, pfMean: 8 }
    const grid = renewalGrid(life, { startsDeveloping: 0, renewEvery: null, upTo: 100, resolution: 80 })
    const counts = ahead((share) => Math.exp(logSurvival(100 * share, life)))
    expect(meanFailures(counts)).toBeCloseTo(renewalFunction(grid, 100), 3)
  })

  it('are the same where rare ones of the parts to come are not told apart', () => {
    const survival = (share: number) => Math.exp(-0.3 * share ** 2)
    const fromNew = countsFromNew({
      survives: curve(survival, 2 * CELLS),
      dueEvery: 60,
      mostFailures: 12,
      mostDue: 3,
    })
    const fewer = withoutRareFailures(fromNew, 1e-9)
    expect(fewer.counts[0]!.mostFailures).toBeLessThan(9)
    for (const dueAfter of [Infinity, 130, 45.5]) {
      const present = { failed: false, survives: curve(survival, CELLS), dueAfter } as const
      const [all, few] = [countsAhead(present, fromNew), countsAhead(present, fewer)]
      expect(total(few)).toBeCloseTo(1, 12)
      for (let i = 0; i < few.chance.length; i++)
        expect(Math.abs(few.chance[i]! - all.chance[i]!)).toBeLessThan(1e-9)
    }
  })

  it('begin with one where the part has failed', () => {
    const fromNew = countsFromNew({
      survives: curve(() => 1, 4),
      dueEvery: Infinity,
      mostFailures: 3,
      mostDue: 0,
    })
    expect([...countsAhead({ failed: true }, fromNew).chance]).toEqual([0, 1, 0, 0, 0])
  })

  it('come as often as in lives lived one by one, renewals that are due among them', () => {
    const random = seeded(11)
    const [shape, scale, first, every] = [3, 0.7, 0.2, 0.4]
    const survival = (share: number) => Math.exp(-((share / scale) ** shape))
    const counts = ahead(survival, { dueAfter: 2 * CELLS * first, dueEvery: 2 * CELLS * every, mostDue: 4 })
    const lives = 40_000
    const seen = new Map<number, number>()
    for (let n = 0; n < lives; n++) {
      let [now, failures, due, limit] = [0, 0, 0, first as number]
      for (;;) {
        const life = scale * (-Math.log(1 - random.uniform())) ** (1 / shape)
        now += Math.min(life, limit)
        // What is due on the last day is still done.
        if (now > 1 + 1e-9) break
        if (life < limit) failures++
        else due++
        limit = every
      }
      const at = failures * 5 + due
      seen.set(at, (seen.get(at) ?? 0) + 1)
    }
    expect(total(counts)).toBeCloseTo(1, 10)
    counts.chance.forEach((p, at) => {
      const error = Math.sqrt((p * (1 - p)) / lives)
      expect(Math.abs((seen.get(at) ?? 0) / lives - p)).toBeLessThan(4 * error + 0.002)
    })
  })
})

describe('two parts together', () => {
  it('count each one’s events, by every pair', () => {
    const a = { mostFailures: 1, mostDue: 1, chance: Float64Array.of(0.5, 0.2, 0.2, 0.1) }
    const b = { mostFailures: 1, mostDue: 0, chance: Float64Array.of(0.75, 0.25) }
    const { chance } = countsTogether(a, b)
    expect([...chance].map((p) => Math.round(p * 1e6) / 1e6)).toEqual([
      0.375, 0.15, 0.275, 0.125, 0.05, 0.025,
    ])
  })
})
