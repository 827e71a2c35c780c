/** The measures against what they say of themselves, and against counting pair by pair. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { brierScore } from '@/lib/replay/brier-score'
import { calibration } from '@/lib/replay/calibration'
import { concordance, type Watched } from '@/lib/replay/concordance'
import { decisionCurve } from '@/lib/replay/decision-curve'
import { poissonInterval } from '@/lib/replay/poisson-interval'
import { runs } from '../runs'

const unit = fc.double({ min: 0, max: 1, noNaN: true })
/** What happened: mostly yes or no, at times a chance. */
const outcome = fc.oneof({ weight: 4, arbitrary: fc.constantFrom(0, 1) }, { weight: 1, arbitrary: unit })
const forecasts = fc
  .array(fc.tuple(unit, outcome), { minLength: 1, maxLength: 60 })
  .map((rows) => ({ chance: rows.map(([p]) => p), outcome: rows.map(([, y]) => y) }))
const EDGES = [0, 0.01, 0.1, 0.3, 1]

describe('Brier score', () => {
  it('is the sum of its parts', () => {
    fc.assert(
      fc.property(forecasts, (given) => {
        const score = brierScore(given, EDGES)!
        const sum =
          score.reliability -
          score.resolution +
          score.uncertainty +
          score.withinBinVariance -
          score.withinBinCovariance
        expect(score.score).toBeCloseTo(sum, 12)
      }),
      { numRuns: runs(300) },
    )
  })

  it('of an outcome that is a chance is the mean of both ways it may have gone', () => {
    const [failed, spared, half] = [1, 0, 0.25].map((y) =>
      brierScore({ chance: [0.4, 0.1], outcome: [y, 0] }, EDGES),
    )
    expect(half!.score).toBeCloseTo(0.25 * failed!.score + 0.75 * spared!.score, 14)
  })

  it('has none where there is no case', () => {
    expect(brierScore({ chance: [], outcome: [] }, EDGES)).toBeNull()
  })
})

/** Every pair, by the definition: with weights for what failed by a chance. */
function pairByPair({ time, failed, risk }: Watched) {
  const counts = { concordant: 0, discordant: 0, tiedRisk: 0, tiedTime: 0, tiedBoth: 0 }
  for (let i = 0; i < time.length; i++) {
    for (let j = 0; j < time.length; j++) {
      if (i === j || time[i]! > time[j]!) continue
      const comparable = failed[i]! * (time[i]! < time[j]! ? 1 : 1 - failed[j]!)
      const order = risk[i]! > risk[j]! ? 'concordant' : risk[i]! < risk[j]! ? 'discordant' : 'tiedRisk'
      counts[order] += comparable
      if (time[i] === time[j] && i < j)
        counts[risk[i] === risk[j] ? 'tiedBoth' : 'tiedTime'] += failed[i]! * failed[j]!
    }
  }
  return counts
}

describe('concordance', () => {
  const few = (most: number) => fc.integer({ min: 0, max: most })
  const watched = fc.array(fc.tuple(few(12), outcome, few(8)), { maxLength: 60 }).map((rows) => ({
    time: rows.map((r) => r[0]),
    failed: rows.map((r) => r[1]),
    risk: rows.map((r) => r[2]),
  }))

  it('counts what counting pair by pair counts', () => {
    fc.assert(
      fc.property(watched, (given) => {
        const { concordance: share, ...counts } = concordance(given)
        const expected = pairByPair(given)
        for (const key of ['concordant', 'discordant', 'tiedRisk', 'tiedTime', 'tiedBoth'] as const)
          expect(counts[key]).toBeCloseTo(expected[key], 9)
        if (share !== null) expect(share).toBeGreaterThanOrEqual(0)
      }),
      { numRuns: runs(300) },
    )
  })

  it('is 1 where the likelier failed sooner, 0 where later, and unknown without a failure', () => {
    const given = { time: [1, 2, 3], failed: [1, 1, 0] }
    expect(concordance({ ...given, risk: [3, 2, 1] }).concordance).toBe(1)
    expect(concordance({ ...given, risk: [1, 2, 3] }).concordance).toBe(0)
    expect(concordance({ time: [1, 2], failed: [0, 0], risk: [1, 2] }).concordance).toBeNull()
  })
})

describe('exact interval', () => {
  it('of events that all count w is w times that of as many events', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 300 }), fc.double({ min: 0.1, max: 9, noNaN: true }), (n, w) => {
        const plain = poissonInterval(Array(n).fill(1))
        const weighted = poissonInterval(Array(n).fill(w))
        expect(weighted.low / (w * plain.low)).toBeCloseTo(1, 9)
        expect(weighted.high / (w * plain.high)).toBeCloseTo(1, 9)
        expect(plain.low).toBeLessThan(n)
        expect(plain.high).toBeGreaterThan(n)
      }),
      { numRuns: runs(100) },
    )
  })

  it('is wider for few heavy events than for many light ones', () => {
    const few = poissonInterval([3, 3, 3, 3])
    const many = poissonInterval(Array(12).fill(1))
    expect(few.low).toBeLessThan(many.low)
    expect(few.high).toBeGreaterThan(many.high)
  })

  it('holds large counts', () => {
    const { low, high } = poissonInterval(Array(50_000).fill(1))
    // Normal, to the first order: n ± 1.96·√n.
    expect((50_000 - low) / Math.sqrt(50_000)).toBeCloseTo(1.96, 1)
    expect((high - 50_000) / Math.sqrt(50_000)).toBeCloseTo(1.96, 1)
  })
})

describe('calibration', () => {
  it('finds the line on which outcomes lie', () => {
    const chance = Array.from({ length: 99 }, (_, i) => (i + 1) / 100)
    const tilted = chance.map((p) => 1 / (1 + Math.exp(-(0.3 + 0.7 * Math.log(p / (1 - p))))))
    const fit = calibration({ chance, outcome: tilted })
    expect(fit).toMatchObject({ ok: true })
    if (!fit.ok) return
    expect(fit.slope).toBeCloseTo(0.7, 9)
    expect(fit.intercept).toBeCloseTo(0.3, 9)
  })

  it.each([
    ['one-outcome', [0.1, 0.2], [0, 0]],
    ['one-outcome', [0.1, 0.2], [1, 1]],
    ['one-outcome', [], []],
    ['no-convergence', [0.1, 0.1, 0.1], [0, 1, 0]],
    ['no-convergence', [0.1, 0.2, 0.8, 0.9], [0, 0, 1, 1]],
  ])('says %s where there is no slope: %j %j', (reason, chance, outcomes) => {
    expect(calibration({ chance, outcome: outcomes })).toEqual({ ok: false, reason })
  })

  it('holds chances of 0 and 1', () => {
    const fit = calibration({ chance: [0, 0.2, 0.4, 0.6, 1, 0.5], outcome: [0, 1, 0, 1, 1, 0] })
    expect(fit.ok && Number.isFinite(fit.slope)).toBe(true)
  })
})

describe('decision curve', () => {
  it('at a chance that all pass is that of doing everything', () => {
    fc.assert(
      fc.property(forecasts, (given) => {
        const [point] = decisionCurve({ ...given, chance: given.chance.map((p) => 0.2 + 0.8 * p) }, [0.2])
        expect(point!.netBenefit).toBeCloseTo(point!.netBenefitAll, 12)
      }),
      { numRuns: runs(100) },
    )
  })
})
