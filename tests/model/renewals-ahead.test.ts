/** Counts of failures and due renewals: against closed forms, the renewal function, and lives lived one by one. */
import { describe, expect, it } from 'vitest'
import { CountsByNode, countsTogether, type EventCounts } from '@/lib/model/event-counts'
import { renewalFunction, renewalGrid } from '@/lib/model/renewal'
import {
  type CountsFromNew,
  countsFromNew,
  mixFromNew,
  type PartsToCome,
  withoutRareFailures,
} from '@/lib/model/renewals-ahead'
import { StretchAhead, writeFailed } from '@/lib/model/stretch-ahead'
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
  return countsAhead(curve(survival, CELLS), fromNew, dueAfter)
}

const roomFor = (fromNew: CountsFromNew) =>
  new CountsByNode().begin(1, fromNew.mostFailures + 1, fromNew.mostDue)
const theOnly = (counts: CountsByNode) => counts.mix(Float64Array.of(1))

/** The counts over the whole period of a part that is there. @param survives at even moments of it */
function countsAhead(survives: Float64Array, fromNew: CountsFromNew, dueAfter = Infinity): EventCounts {
  const stretch = new StretchAhead(fromNew, { cells: survives.length - 1, dueAfter, period: fromNew.reach })
  const counts = roomFor(fromNew)
  stretch.write(survives, 0, fromNew, counts, 0)
  return theOnly(counts)
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
    expect(fewer.mostFailures).toBeLessThan(9)
    for (const dueAfter of [Infinity, 130, 45.5]) {
      const present = curve(survival, CELLS)
      const [all, few] = [countsAhead(present, fromNew, dueAfter), countsAhead(present, fewer, dueAfter)]
      expect(total(few)).toBeCloseTo(1, 12)
      for (let i = 0; i < few.chance.length; i++)
        expect(Math.abs(few.chance[i]! - all.chance[i]!)).toBeLessThan(1e-9)
    }
  })

  it('are of parts of unsure lives the mean over their lives', () => {
    const fromNew = [0.4, 2].map((rate) =>
      countsFromNew({
        survives: curve((share) => Math.exp(-rate * share), 2 * CELLS),
        dueEvery: 60,
        mostFailures: 8,
        mostDue: 3,
      }),
    )
    const fewer = [withoutRareFailures(fromNew[0]!, 1e-6), fromNew[1]!]
    const present = curve((share) => Math.exp(-share), CELLS)
    const [one, other] = fewer.map((each) => countsAhead(present, each))
    const mixed = countsAhead(present, mixFromNew(fewer, [0.3, 0.7]))
    mixed.chance.forEach((p, i) => {
      expect(p).toBeCloseTo(0.3 * (one!.chance[i] ?? 0) + 0.7 * other!.chance[i]!, 12)
    })
  })

  it('begin with one where the part has failed', () => {
    const fromNew = countsFromNew({
      survives: curve(() => 1, 4),
      dueEvery: Infinity,
      mostFailures: 3,
      mostDue: 0,
    })
    const counts = roomFor(fromNew)
    writeFailed(fromNew.reach, fromNew, counts, 0)
    expect([...theOnly(counts).chance]).toEqual([0, 1, 0, 0, 0])
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
