/** The replay of a simulated fleet whose library is right. */
import { describe, expect, it } from 'vitest'
import { VehicleScorer } from '@/lib/decisions/score-fleet'
import { FORECASTERS } from '@/lib/replay/judge'
import { lookBack } from '@/lib/replay/look-back'
import { cutOffsOf, judgeAll, type ReplayWork } from '@/lib/replay/replay'
import { formatDay } from '@/lib/units/dates'
import { simulatedLibrary } from '../simulation/libraries'
import { repairRow } from '../simulation/record-rows'
import { simulateWorld } from '../simulation/world'

const LAST_DAY = 19_600
const plan = { from: LAST_DAY - 270, to: LAST_DAY - 90, every: 60, days: 90 }
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
/** Knows the true parameters: the simulated world is lived by the library's central values. */
const knowing = (_: unknown, cutOff: number) =>
  new VehicleScorer({
    library,
    asOf: cutOff,
    horizons: [{ days: plan.days }],
    settings: records.settings,
    spread: 'central',
  })
const work = { records, library, plan, learning: false }
const result = judgeAll(work, lookBack(work, undefined, knowing))
const { judgements, money } = result.overall
const replayOf = (of: ReplayWork) => judgeAll(of, lookBack(of))

it('looks back from every day that was asked for', () => {
  expect(result.cutOffs.map(({ asOf }) => asOf)).toEqual(
    [270, 210, 150, 90].map((days) => formatDay(LAST_DAY - days)),
  )
  expect(cutOffsOf({ from: 10, to: 9, every: 1, days: 1 })).toEqual([])
})

describe.each(FORECASTERS)('%s', (forecaster) => {
  const overall = judgements[forecaster]
  const parts = result.cutOffs.map((each) => each.judgements[forecaster])
  const sum = (of: (part: typeof overall) => number) => parts.reduce((total, part) => total + of(part), 0)

  it('is judged over all on what it was judged on at each cut-off', () => {
    expect(sum((part) => part.components)).toBe(overall.components)
    expect(sum((part) => part.expected)).toBeCloseTo(overall.expected, 9)
    expect(sum((part) => part.observed)).toBe(overall.observed)
    expect(sum((part) => part.imputed)).toBeCloseTo(overall.imputed, 9)
  })

  it('faces what all others face', () => {
    const { product } = judgements
    const faced = ({ components, observed, imputed, interval }: typeof product) => ({
      components,
      observed,
      imputed,
      interval,
    })
    expect(faced(overall)).toEqual(faced(product))
    expect(money[forecaster].jobs).toBe(money.product.jobs)
  })

  it('has a chance of each component between 0 and 1, in one bin each', () => {
    expect(overall.bins.reduce((count, bin) => count + bin.count, 0)).toBe(overall.components)
    expect(overall.expected).toBeGreaterThan(0)
    expect(overall.brier!.score).toBeLessThan(1)
  })

  it('spends what jobs and failures cost', () => {
    const { planned, unplanned, spent } = money[forecaster]
    expect(planned + unplanned).toBeCloseTo(spent, 9)
  })
})

describe('whoever knows the true parameters', () => {
  it('expects as many failures as there were', () => {
    const { expected, interval, observed } = judgements.product
    expect(observed).toBeGreaterThan(10)
    expect(expected).toBeGreaterThan(interval.low)
    expect(expected).toBeLessThan(interval.high)
  })

  it('knows better which fail first than those without signs, the odometer, or fixed intervals', () => {
    for (const rival of ['ages', 'mileage', 'intervals'] as const)
      expect(judgements.product.concordance!).toBeGreaterThan(judgements[rival].concordance!)
  })

  it('prevents more with as many jobs than the odometer or fixed intervals', () => {
    for (const rival of ['mileage', 'intervals'] as const)
      expect(money.product.prevented).toBeGreaterThan(money[rival].prevented)
  })
})

it('tells of each weak point what adds up to all', () => {
  const sum = (of: (one: (typeof weakPoints)[number]) => number) =>
    weakPoints.reduce((a, one) => a + of(one), 0)
  const { weakPoints } = result.overall
  expect(weakPoints.map(({ weakPoint }) => weakPoint)).toEqual(
    library.families[0]!.weakPoints.map(({ key }) => key),
  )
  expect(sum((one) => one.expected)).toBeCloseTo(judgements.product.expected, 9)
  expect(sum((one) => one.observed)).toBe(judgements.product.observed)
})

it('sees no record that was entered after the cut-offs, and every one that was not', () => {
  const unit = records.vehicles[0]!.unit
  const withRepair = (enteredOn: number) => {
    const row = { unit, doneOn: plan.from - 20, weakPoint: 'coil', positions: [1], enteredOn }
    const planted = repairRow({ ...row, action: 'renew', found: 'failed' })
    return replayOf({ ...work, records: { ...records, repairs: [...records.repairs, planted] }, plan: first })
  }
  const first = { ...plan, to: plan.from }
  const plain = replayOf({ ...work, plan: first })
  expect(withRepair(plan.from + 1)).toEqual(plain)
  expect(withRepair(plan.from)).not.toEqual(plain)
})

it('without a learner says what the library says', () => {
  const { overall, learned } = replayOf({ ...work, plan: { ...plan, to: plan.from } })
  expect(learned).toBe(false)
  expect(overall.judgements.library).toEqual(overall.judgements.product)
})
