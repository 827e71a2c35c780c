/** What a page shows of a replay: in figures, and read back from what was kept. */
import { describe, expect, it } from 'vitest'
import { compareForecasts } from '@/lib/replay/compare-forecasts'
import { lookBack } from '@/lib/replay/look-back'
import { judgeAll } from '@/lib/replay/replay'
import { parseComparison, parseReplay } from '@/lib/replay/stored-replay'
import { trackReport } from '@/lib/replay/track-report'
import { simulatedLibrary } from '../simulation/libraries'
import { simulateWorld } from '../simulation/world'

const LAST_DAY = 19_600
const plan = { from: LAST_DAY - 210, to: LAST_DAY - 90, every: 30, days: 90 }
const library = simulatedLibrary('knot', 'experience')
const { records } = simulateWorld({
  seed: 5,
  library,
  vehicles: 24,
  firstDay: 17_900,
  spreadDays: 300,
  lastDay: LAST_DAY,
  snapshots: [],
})
const work = { records, library, plan, learning: false }
const replay = judgeAll(work, lookBack(work))
const report = trackReport(replay)
const { product } = replay.overall.judgements

it('a replay that was kept is read back as it was; one of another make is not', () => {
  expect(parseReplay(JSON.stringify(replay))).toEqual(JSON.parse(JSON.stringify(replay)))
  const { gains: _, ...without } = replay.overall
  expect(parseReplay(JSON.stringify({ ...replay, overall: without }))).toBeNull()
})

it('a comparison that was kept is read back as it was; one of another make is not', () => {
  const comparison = compareForecasts([], [])
  expect(parseComparison(JSON.stringify(comparison))).toEqual(comparison)
  const { failures: _, ...without } = comparison
  expect(parseComparison(JSON.stringify(without))).toBeNull()
})

describe('a report', () => {
  it('tells of days, of which one lies in two windows or so', () => {
    const { count } = report.forecasters.product
    // Five windows of 90 days, over 210.
    const windows = 450 / 210
    expect(count.expected).toBeCloseTo(product.expected / windows, 9)
    expect(count.found).toBeCloseTo((product.observed + product.imputed) / windows, 9)
    expect(count.low).toBeCloseTo(product.interval.low / windows, 9)
    expect(report.verdict.found).toBeCloseTo(count.found, 9)
    const sum = report.weakPoints.reduce((all, one) => all + one.found, 0)
    expect(sum).toBeCloseTo(count.found, 9)
  })

  it('tells each window of its own whole, with how far its interval reaches', () => {
    expect(report.cutOffs).toHaveLength(5)
    report.cutOffs.forEach(({ expected, found, low, high, reach, standing }, k) => {
      const then = replay.cutOffs[k]!.judgements.product
      expect([expected, found]).toEqual([then.expected, then.observed + then.imputed])
      expect(found - reach[0]).toBeCloseTo(low, 9)
      expect(found + reach[1]).toBeCloseTo(high, 9)
      expect(standing === 'as-said').toBe(expected >= low && expected <= high)
    })
    expect(report.within).toBe(report.cutOffs.filter(({ standing }) => standing === 'as-said').length)
  })

  it('tells of each class of chances what came in it, within its interval', () => {
    expect(report.classes.length).toBeGreaterThan(3)
    for (const { from, to, said, came, low, high, drawn } of report.classes) {
      expect(said).toBeGreaterThanOrEqual(from)
      expect(said).toBeLessThan(to)
      expect(low).toBeLessThanOrEqual(came)
      expect(high).toBeGreaterThanOrEqual(came)
      // A logarithmic scale has no 0.
      expect(drawn.came - drawn.reach[0]).toBeGreaterThan(0)
    }
  })

  it('says of each rival what the difference of errors says', () => {
    for (const [rival, { errorLess, standing }] of Object.entries(report.rivals)) {
      const { first, second } = replay.overall.gains[rival as 'ages'].logLoss
      expect(errorLess.share).toBeCloseTo(1 - second / first, 9)
      expect(standing === 'better').toBe(errorLess.low > 0)
    }
    // Nothing was learned: the library says the same.
    expect(report.rivals.library).toMatchObject({ standing: 'alike', preventedMore: 0, spentLess: 0 })
    expect(report.rivals.mileage.errorLess.share).toBeGreaterThan(0)
  })

  it('calls no rival better or worse where too little has failed for a verdict', () => {
    const few = { ...product, observed: 3, imputed: 0 }
    const judgements = { ...replay.overall.judgements, product: few }
    const { verdict, rivals } = trackReport({ ...replay, overall: { ...replay.overall, judgements } })
    expect(verdict.standing).toBe('too-few')
    for (const { standing } of Object.values(rivals)) expect(standing).toBe('too-few')
  })
})
