/** What to set aside: against lives lived one by one, and what must hold whatever the library says. */
import { describe, expect, it } from 'vitest'
import type { AdviceGround } from '@/lib/decisions/advice'
import { jobCost, longRunRates, pricesOf } from '@/lib/decisions/costs'
import { gradeOf, gradesOf, USUAL_GRADES } from '@/lib/decisions/grades'
import { setAside } from '@/lib/decisions/set-aside'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import type { Usage } from '@/lib/records/usage'
import { chancesWithin } from '@/lib/scoring/score-components'
import { engine, followOne, type History, KM_PER_DAY, opened, point, repaired } from '../scoring/one-vehicle'
import { seeded } from '../simulation/random'
import { liveOnce } from './lived-once'

const injector = point('injector', 90_000, 180_000, 8_000, { positions: 4, confidence: 'hunch' })
const belt = point('belt', 120_000, 200_000, 0, {
  renewEvery: 60_000,
  cost: { parts: 300, hours: 4, failureExtra: 2500, daysOff: 5 },
})
const hose = point('hose', 15_000, 30_000, 2_000, {
  cost: { parts: 40, hours: 0.5, failureExtra: 100, daysOff: 0 },
})

const UNSURE: Usage = { kmPerDay: KM_PER_DAY, logSd: 0.3, standing: false, basis: 'readings' }

function groundOf(
  weakPoints: object[],
  km: number,
  history: History = [],
  said: Parameters<typeof followOne>[3] = {},
) {
  const library = engine(weakPoints)
  const one = followOne(library, km, history, said)
  const prices = pricesOf(library, DEFAULT_SETTINGS)
  const ground: AdviceGround = {
    vehicle: one.followed,
    clock: one.clock,
    parameters: one.parameters,
    prices,
    settings: DEFAULT_SETTINGS,
    rates: longRunRates(prices),
  }
  return { one, ground, prices }
}

/** What its parts come to, where nothing fails twice. */
function chancesTimesCost({ one, prices }: ReturnType<typeof groundOf>, days: number): number {
  const { components } = chancesWithin(one.belief, one.clock, { days })
  const { unplanned } = jobCost(one.belief.plan.components[0]!.weakPoint, prices)
  return components.reduce((sum, { pFail }) => sum + pFail * unplanned, 0)
}

describe('what to set aside', () => {
  const history: History = [
    [100_000, repaired('belt', { because: 'schedule' })],
    [149_000, opened('injector', 'developing', { positions: [3] })],
  ]

  it('is what vehicles that are lived one by one come to', () => {
    const { ground } = groundOf([injector, belt, hose], 150_000, history, { usage: UNSURE })
    const random = seeded(5)
    const lives = 8_000
    const costs = Array.from({ length: lives }, () => liveOnce(ground, 365, random).cost).sort(
      (a, b) => a - b,
    )
    const found = setAside(ground, { cover: { days: 365, km: null } })
    const mean = costs.reduce((a, b) => a + b, 0) / lives
    expect(found.mean / mean).toBeGreaterThan(0.95)
    expect(found.mean / mean).toBeLessThan(1.05)
    for (const [level, amount] of [
      [0.5, found.p50],
      [0.8, found.p80],
      [0.95, found.p95],
    ] as const) {
      // The share of lives up to the amount, with the jump that lies there.
      const below = costs.filter((cost) => cost < amount - found.roundedBy - 1).length / lives
      const upTo = costs.filter((cost) => cost <= amount + found.roundedBy + 1).length / lives
      expect(below).toBeLessThan(level + 0.02)
      expect(upTo).toBeGreaterThan(level - 0.02)
    }
  })

  it('is on the mean the chance of failing times what it costs, where nothing fails twice', () => {
    const all = groundOf([injector], 60_000)
    const ratio = setAside(all.ground, { cover: { days: 90, km: null } }).mean / chancesTimesCost(all, 90)
    // A new part that was renewed badly may fail once more.
    expect(ratio).toBeGreaterThan(1 - 1e-4)
    expect(ratio).toBeLessThan(1.01)
  })

  it('is on the mean what each position comes to, however different their histories', () => {
    const all = groundOf([injector], 120_000, [
      [90_000, opened('injector', 'failed', { positions: [1] })],
      [90_100, repaired('injector', { positions: [1] })],
      [100_000, opened('injector', 'sound', { positions: [2] })],
      [119_000, opened('injector', 'developing', { positions: [3] })],
    ])
    const ratio = setAside(all.ground, { cover: { days: 30, km: null } }).mean / chancesTimesCost(all, 30)
    expect(ratio).toBeGreaterThan(1 - 1e-4)
    expect(ratio).toBeLessThan(1.01)
  })

  it('has a wider tail than if the positions of one weak point had nothing in common', () => {
    const four = setAside(groundOf([injector], 150_000).ground, { cover: { days: 730, km: null } })
    const apart = ['a', 'b', 'c', 'd'].map((key) => ({ ...injector, key, component: key, positions: 1 }))
    const each = setAside(groundOf(apart, 150_000).ground, { cover: { days: 730, km: null } })
    expect(four.mean / each.mean).toBeCloseTo(1, 6)
    expect(four.p95).toBeGreaterThan(each.p95)
  })

  it('ends with the days or the kilometres, whichever come first', () => {
    const { ground } = groundOf([injector, hose], 150_000)
    const byKm = setAside(ground, { cover: { days: 3650, km: 6_000 } })
    const byDays = setAside(ground, { cover: { days: 100, km: 50_000 } })
    expect(byKm).toEqual(byDays)
  })

  it('leaves out what the cover leaves out, and pays no more for a failure than its limit', () => {
    const { ground } = groundOf([injector, belt, hose], 150_000, history)
    const cover = { days: 365, km: null }
    const whole = setAside(ground, { cover })
    const without = setAside(ground, { cover, excluded: new Set(['belt', 'hose']) })
    const alone = setAside(groundOf([injector], 150_000, history.slice(1)).ground, { cover })
    // The belt's repair cuts the way to the same age in two: the last digits may differ.
    expect({ ...without, mean: 0 }).toEqual({ ...alone, mean: 0 })
    expect(without.mean).toBeCloseTo(alone.mean, 9)
    expect(without.mean).toBeLessThan(whole.mean)
    const limited = setAside(ground, { cover, claimLimit: 200 })
    expect(limited.mean).toBeLessThan(whole.mean)
    expect(setAside(ground, { cover, claimLimit: 1e9 })).toEqual(whole)
  })

  it('counts a failed part and an interval that has run out for certain', () => {
    const failed = groundOf([injector], 100_000, [
      [100_000, opened('injector', 'failed', { positions: [2] })],
    ])
    expect(setAside(failed.ground, { cover: { days: 1, km: null } }).p50).toBe(890)
    const due = groundOf([belt], 130_000, [[65_000, repaired('belt')]])
    expect(setAside(due.ground, { cover: { days: 1, km: null } }).p50).toBe(620)
  })

  it('says what of the mean is due to parts of which nobody knows how old they are', () => {
    const known = setAside(groundOf([injector], 150_000).ground, { cover: { days: 365, km: null } })
    expect(known.meanOfUnknownHistory).toBe(0)
    const bought = { watchedFromKm: 140_000, watchedFromOn: 18_000 + 140_000 / 60, history: 'none' as const }
    const { ground } = groundOf([injector], 150_000, [], { vehicle: bought, readFromKm: 140_000 })
    const unknown = setAside(ground, { cover: { days: 365, km: null } })
    expect(unknown.meanOfUnknownHistory).toBeCloseTo(unknown.mean, 6)
    expect(unknown.mean).toBeGreaterThan(0)
  })
})

describe('a grade', () => {
  it('is a word for a share of the value', () => {
    expect(gradeOf(400, 10_000, USUAL_GRADES)).toBe('little')
    expect(gradeOf(500.01, 10_000, USUAL_GRADES)).toBe('some')
    expect(gradeOf(9_000, 10_000, USUAL_GRADES)).toBe('very much')
    expect(gradeOf(400, null, USUAL_GRADES)).toBeNull()
  })

  it('goes by the organisation’s own thresholds where they can be read', () => {
    const own = [
      { word: 'fine', upTo: 0.1 },
      { word: 'not for us', upTo: null },
    ]
    expect(gradeOf(400, 1_000, gradesOf(own))).toBe('not for us')
    for (const said of [
      null,
      'A',
      [],
      [
        { word: 'x', upTo: 0.2 },
        { word: 'y', upTo: 0.1 },
      ],
    ])
      expect(gradesOf(said)).toBe(USUAL_GRADES)
  })
})
