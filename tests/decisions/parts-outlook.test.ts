import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  chanceWithinDays,
  failuresWithin,
  type PartComponent,
  partsOutlook,
} from '@/lib/decisions/parts-outlook'
import { VehicleScorer } from '@/lib/decisions/score-fleet'
import type { PartStock } from '@/lib/records/part-stock'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import {
  at,
  dayAt,
  engine,
  type History,
  looked,
  point,
  recordsAt,
  repaired,
  sign,
} from '../scoring/one-vehicle'

/** The mean of what the count says. */
const meanOf = ({ offset, chance }: { offset: number; chance: Float64Array }) =>
  chance.reduce((sum, p, i) => sum + p * (offset + i), 0)

describe('how many of one weak point fail', () => {
  const component = fc
    .tuple(fc.double({ min: 0.001, max: 0.6, noNaN: true }), fc.double({ min: 1, max: 4, noNaN: true }))
    .map(([pFail, times]) => ({ pFail, pLow: pFail / times, pHigh: Math.min(pFail * times, 0.95) }))

  test('the mean is the sum of the chances, and all cases together are certain', () => {
    fc.assert(
      fc.property(fc.array(component, { minLength: 1, maxLength: 60 }), (chances) => {
        const count = failuresWithin(chances)
        expect(count.chance.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 10)
        // A chance moved beyond certain is cut there: then the mean is a little less.
        const mean = chances.reduce((sum, { pFail }) => sum + pFail, 0)
        expect(meanOf(count)).toBeLessThanOrEqual(mean + 1e-9)
        expect(meanOf(count)).toBeGreaterThan(0.97 * mean)
      }),
      { numRuns: 50 },
    )
  })

  test('what is not known of all alike makes far counts likelier than coins that know nothing of each other', () => {
    const spreadOf = (pLow: number, pHigh: number) => {
      const count = failuresWithin(Array.from({ length: 200 }, () => ({ pFail: 0.05, pLow, pHigh })))
      const mean = meanOf(count)
      return count.chance.reduce((sum, p, i) => sum + p * (count.offset + i - mean) ** 2, 0)
    }
    expect(spreadOf(0.05, 0.05)).toBeCloseTo(200 * 0.05 * 0.95, 6)
    expect(spreadOf(0.025, 0.1)).toBeGreaterThan(2 * 200 * 0.05 * 0.95)
  })
})

test('a chance between those that are kept is near to the one that is reckoned', () => {
  const library = engine(
    [
      point('valve', 80_000, 140_000, 9000),
      point('relay', 60_000, 90_000, 0),
      point('hose', 30_000, 70_000, 2000, { confidence: 'hunch' }),
    ],
    [sign('leak', 'visual', { valve: 0.6, hose: 0.7 })],
  )
  const asOf = dayAt(100_000)
  const scorer = new VehicleScorer({
    ...{ library, settings: DEFAULT_SETTINGS, asOf, fit: null },
    horizons: [30, 90, 180, 28, 56, 91].map((days) => ({ days })),
  })
  const histories: History[] = [
    [],
    [[99_000, looked('visual', at('leak'))]],
    [
      [60_000, repaired('relay')],
      [97_000, looked('visual')],
    ],
    [[98_000, repaired('hose', { found: 'failed', because: 'failure' })]],
  ]
  const scores = histories.flatMap((history) =>
    fleetVehicles(recordsAt(100_000, history), asOf).map((one) => scorer.score(one)!.components),
  )
  let [said, reckoned, worst, compared] = [0, 0, 0, 0]
  for (const components of scores)
    for (const { weakPoint } of components.filter(({ horizonDays }) => horizonDays === 30)) {
      const within = (days: number) =>
        components.find((one) => one.weakPoint === weakPoint && one.horizonDays === days)!
      const kept = [30, 90, 180].map((days) => ({ ...within(days), days }))
      for (const days of [28, 56, 91]) {
        const chance = chanceWithinDays(kept, days).pFail
        said += chance
        reckoned += within(days).pFail
        worst = Math.max(worst, Math.abs(chance - within(days).pFail))
        compared++
      }
    }
  expect(compared).toBe(36)
  // Of one component within two in a hundred, of all together within two in a hundred of their sum.
  expect(worst).toBeLessThan(0.02)
  expect(Math.abs(said / reckoned - 1)).toBeLessThan(0.02)
})

const TERMS = { today: 20_000, weeks: 8, level: 0.9 }
const chances = (pFail: number) => [30, 90, 180].map((days) => ({ days, pFail, pLow: pFail, pHigh: pFail }))
const component = (unit: string, said: Partial<PartComponent> = {}): PartComponent => ({
  ...{
    unit,
    family: 'plover',
    weakPoint: 'pump',
    position: 1,
    part: 'P',
    chances: chances(0),
    plannedOn: null,
  },
  ...said,
})
const stock = (said: Partial<PartStock> = {}): Map<string, PartStock> =>
  new Map([
    ['P', { part: 'P', onHand: 0, onOrder: 0, dueOn: null, leadDays: 10, price: 5, supplier: null, ...said }],
  ])
const planned = (unit: string, days: number) => component(unit, { plannedOn: TERMS.today + days })
const outlook = (parts: PartComponent[], held = stock()) => partsOutlook(parts, held, TERMS)[0]!

describe('what is to be ordered, and by when', () => {
  const jobs = [planned('A', 10), planned('B', 24), planned('C', 200)]

  test('planned jobs take their part for certain, in the weeks looked at', () => {
    const { mean, planned: certain, enough, makers } = outlook(jobs)
    expect([mean, certain, enough]).toEqual([2, 2, 2])
    expect(makers.map(({ unit, chance }) => [unit, chance])).toEqual([
      ['A', 1],
      ['B', 1],
      ['C', 0],
    ])
  })

  test('it is short from the week in which it is needed, and ordered so many days before', () => {
    expect(outlook(jobs)).toMatchObject({ toOrder: 2, shortFrom: 20_007, orderBy: 19_997, covered: 0 })
    expect(outlook(jobs, stock({ onHand: 1 }))).toMatchObject({
      toOrder: 1,
      shortFrom: 20_021,
      orderBy: 20_011,
    })
    expect(outlook(jobs, stock({ onHand: 2 }))).toMatchObject({
      toOrder: 0,
      shortFrom: null,
      orderBy: null,
      covered: 1,
    })
    expect(outlook(jobs, stock({ leadDays: null }))).toMatchObject({ shortFrom: 20_007, orderBy: null })
  })

  test('what is on order counts from the day on which it comes', () => {
    const ordered = (said: Partial<PartStock>) => outlook(jobs, stock({ onOrder: 2, ...said }))
    expect(ordered({ dueOn: 20_005 })).toMatchObject({ toOrder: 0, shortFrom: null })
    // Nothing more is to be ordered, but it comes too late for the first.
    expect(ordered({ dueOn: 20_015 })).toMatchObject({ toOrder: 0, shortFrom: 20_007, orderBy: null })
    expect(ordered({ dueOn: 19_000, leadDays: 7 })).toMatchObject({ toOrder: 0, shortFrom: null })
    expect(ordered({ dueOn: 19_000, leadDays: null })).toMatchObject({ toOrder: 0, shortFrom: 20_007 })
  })

  test('nothing said of the stock is reckoned as none, and a part that nothing needs is told', () => {
    expect(outlook(jobs, new Map())).toMatchObject({ stock: null, toOrder: 2, orderBy: null })
    expect(outlook([], stock({ onHand: 3 }))).toMatchObject({
      part: 'P',
      uses: [],
      mean: 0,
      toOrder: 0,
      covered: 1,
    })
  })

  test('the first short week is the one that a search week by week finds', () => {
    const chance = fc.double({ min: 0, max: 0.5, noNaN: true })
    const some = fc.array(fc.tuple(chance, fc.option(fc.integer({ min: -5, max: 60 }))), { maxLength: 12 })
    const held = fc.record({
      onHand: fc.nat(4),
      onOrder: fc.nat(3),
      dueOn: fc.option(fc.integer({ min: 20_000, max: 20_060 })),
    })
    fc.assert(
      fc.property(some, held, (made, said) => {
        const parts = made.map(([p, day], i) =>
          component(`V${i}`, { chances: chances(p), plannedOn: day === null ? null : 20_000 + day }),
        )
        const found = partsOutlook(parts, stock(said), TERMS)[0]!.shortFrom
        const comesOn = said.onOrder > 0 ? (said.dueOn ?? 20_010) : null
        const isShort = (week: number) => {
          const { enough } = partsOutlook(parts, stock(), { ...TERMS, weeks: week })[0]!
          const come = comesOn !== null && comesOn <= 20_000 + (week - 1) * 7 ? said.onOrder : 0
          return enough > said.onHand + come
        }
        const first = [1, 2, 3, 4, 5, 6, 7, 8].find(isShort)
        expect(found).toBe(first === undefined ? null : 20_000 + (first - 1) * 7)
      }),
      { numRuns: 60 },
    )
  })
})
