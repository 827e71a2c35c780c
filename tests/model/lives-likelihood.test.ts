import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { knownWay, type LifeEnding, type LivedLife } from '@/lib/model/lived-life'
import { type LivesLikelihood, livesLikelihood } from '@/lib/model/lives-likelihood'
import type { TwoStage } from '@/lib/model/two-stage'
import { slowly } from './slow-life'

const share = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const parameters = fc.record({
  shape: share(0.7, 6),
  scale: share(5e4, 4e5),
  pfMean: share(2e3, 6e4),
  noticeRate: share(1e-6, 1e-4),
})

/** Lives of every kind; ages up to one and a half of the least scale. */
const lives: fc.Arbitrary<LivedLife> = fc
  .record({
    startAge: fc.constantFrom(0, 8_000),
    developing: fc.constantFrom(0, 0.02, 0.3),
    entry: fc.constantFrom(null, { age: 12_000, sound: false }, { age: 12_000, sound: true }),
    gaps: fc.array(share(500, 12_000), { minLength: 1, maxLength: 5 }),
    odds: fc.array(fc.constantFrom(0, 0.15, 0.9, 3, 40), { minLength: 5, maxLength: 5 }),
    inspected: fc.boolean(),
    kind: fc.constantFrom('failed', 'failed-since', 'developing', 'noticed', 'sound', 'open'),
  })
  .map(({ startAge, developing, entry, gaps, odds, inspected, kind }) => {
    let age = Math.max(startAge, entry?.age ?? 0)
    const found = inspected && kind !== 'sound' ? [Number.POSITIVE_INFINITY] : []
    const looks = [...odds.slice(0, gaps.length), ...found].map((by, i) => {
      age += gaps[i] ?? 900
      return { age, odds: by }
    })
    const ending: LifeEnding =
      kind === 'failed-since' ? { kind, since: age + 100, age: age + 9_000 } : { kind, age: age + 3_000 }
    return { startAge, developing, entry, looks, ending, ways: knownWay() }
  })

const pointOf = (p: TwoStage & { noticeRate: number }, { layout }: LivesLikelihood) => {
  const logs = [p.scale, p.shape, p.pfMean, p.noticeRate].map(Math.log)
  return layout.logNoticeRate === null ? logs.slice(0, 3) : logs
}

describe('the likelihood of lives', () => {
  it('is that of slow integrals, whatever the start, the looks and the ending', () => {
    fc.assert(
      fc.property(lives, parameters, (life, p) => {
        const likelihood = livesLikelihood([life], { warns: true, factors: 0 })
        const noticeRate = likelihood.layout.logNoticeRate === null ? 0 : p.noticeRate
        const expected = slowly(life, p, noticeRate)
        expect(Math.abs(likelihood.at(pointOf(p, likelihood)).value - expected)).toBeLessThan(
          1e-6 * Math.max(1, Math.abs(expected)),
        )
      }),
      { numRuns: 300 },
    )
  })

  it('has the gradient that finite differences show', () => {
    fc.assert(
      fc.property(
        fc.array(lives, { minLength: 1, maxLength: 6 }),
        parameters,
        share(-0.5, 0.5),
        (some, p, log) => {
          const mixed = some.map((life, i) => ({ ...life, ways: WAYS[i % WAYS.length]! }))
          const likelihood = livesLikelihood(mixed, { warns: true, factors: 2 })
          const point = [...pointOf(p, likelihood), log, -log / 2]
          expectGradient(likelihood, point)
        },
      ),
      { numRuns: 200 },
    )
  })

  it('has the gradient of a Weibull where there is no warning', () => {
    fc.assert(
      fc.property(fc.array(lives, { minLength: 1, maxLength: 6 }), parameters, (some, p) => {
        const likelihood = livesLikelihood(some, { warns: false, factors: 0 })
        expectGradient(likelihood, [Math.log(p.scale), Math.log(p.shape)])
      }),
    )
  })
})

const WAYS = [
  knownWay(),
  knownWay([0]),
  knownWay([1, 0]),
  [
    { share: 0.3, factors: [] },
    { share: 0.7, factors: [1] },
  ],
]

/** And the value alone is the value. */
function expectGradient({ at, valueAt }: LivesLikelihood, point: number[]) {
  const { value, gradient } = at(point)
  expect(valueAt(point)).toBe(value)
  expect(gradient.length).toBe(point.length)
  point.forEach((_, i) => {
    const moved = (by: number) => at(point.map((log, j) => (i === j ? log + by : log))).value
    const h = 1e-4
    const slope = (8 * (moved(h) - moved(-h)) - moved(2 * h) + moved(-2 * h)) / (12 * h)
    expect(Math.abs(gradient[i]! - slope)).toBeLessThan(1e-6 * Math.max(1, Math.abs(slope)))
  })
}
