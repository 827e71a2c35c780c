/** What is set aside, in detail: the same distribution as that of the three amounts, and how it is cut into classes. */
import { expect, it } from 'vitest'
import type { AdviceGround } from '@/lib/decisions/advice'
import { longRunRates, pricesOf } from '@/lib/decisions/costs'
import { setAside } from '@/lib/decisions/set-aside'
import { costClasses, setAsideDetail } from '@/lib/decisions/set-aside-detail'
import { quantiles, roundingOf } from '@/lib/model/lattice'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import type { Usage } from '@/lib/records/usage'
import { engine, followOne, KM_PER_DAY, opened, point, repaired } from '../scoring/one-vehicle'

const UNSURE: Usage = { kmPerDay: KM_PER_DAY, logSd: 0.3, standing: false, basis: 'readings' }

function someGround(): AdviceGround {
  const library = engine([
    point('injector', 90_000, 180_000, 8_000, { positions: 4, confidence: 'hunch' }),
    point('belt', 120_000, 200_000, 0, { renewEvery: 60_000 }),
    point('hose', 15_000, 30_000, 2_000, { cost: { parts: 40, hours: 0.5, failureExtra: 100, daysOff: 0 } }),
  ])
  const history = [
    [100_000, repaired('belt', { because: 'schedule' })],
    [149_000, opened('injector', 'developing', { positions: [3] })],
  ] satisfies Parameters<typeof followOne>[2]
  const one = followOne(library, 150_000, history, { usage: UNSURE })
  const prices = pricesOf(library, DEFAULT_SETTINGS)
  return {
    ...{ vehicle: one.followed, clock: one.clock, parameters: one.parameters, prices },
    ...{ settings: DEFAULT_SETTINGS, rates: longRunRates(prices) },
  }
}

const ground = someGround()

it('is the distribution that the amounts are of, whatever the terms', () => {
  for (const terms of [
    { cover: { days: 365, km: null } },
    { cover: { days: 730, km: 6_000 } },
    { cover: { days: 365, km: null }, claimLimit: 200 },
    { cover: { days: 365, km: null }, excluded: new Set(['belt']) },
  ]) {
    const { total, points } = setAsideDetail(ground, terms)
    const amounts = setAside(ground, terms)
    expect(quantiles(total, [0.5, 0.8, 0.95])).toEqual([amounts.p50, amounts.p80, amounts.p95])
    expect([total.mean, roundingOf(total)]).toEqual([amounts.mean, amounts.roundedBy])
    expect(points.reduce((sum, { mean }) => sum + mean, 0)).toBeCloseTo(amounts.mean, 9)
    const unknown = points.reduce((sum, { meanOfUnknownHistory }) => sum + meanOfUnknownHistory, 0)
    expect(unknown).toBeCloseTo(amounts.meanOfUnknownHistory, 9)
  }
})

it('is told in classes of a round width that leave out nothing', () => {
  const { total } = setAsideDetail(ground, { cover: { days: 730, km: null } })
  const [none, ...classes] = costClasses(total)
  expect(none).toMatchObject({ from: 0, upTo: 0 })
  expect(none!.chance).toBeCloseTo(total.mass[0]!, 12)
  const steps = classes.slice(0, -1)
  const width = steps[0]!.upTo!
  expect(String(width)).toMatch(/^[125]0*$/)
  expect(steps.length).toBeGreaterThanOrEqual(5)
  expect(steps.length).toBeLessThanOrEqual(13)
  steps.forEach(({ from, upTo }, i) => {
    expect([from, upTo]).toEqual([i * width, (i + 1) * width])
  })
  expect(classes.at(-1)).toMatchObject({ from: steps.length * width, upTo: null })
  expect(classes.at(-1)!.chance).toBeLessThanOrEqual(0.02)
  expect([none!, ...classes].reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(1, 9)
})

it('is one class where nothing is to be paid', () => {
  const excluded = new Set(['injector', 'belt', 'hose'])
  const { total, points } = setAsideDetail(ground, { cover: { days: 365, km: null }, excluded })
  expect(points).toEqual([])
  expect(costClasses(total)[0]!.chance).toBeCloseTo(1, 12)
})
