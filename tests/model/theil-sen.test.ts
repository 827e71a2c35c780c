import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { theilSen } from '@/lib/model/theil-sen'
import { runs } from '../runs'
import { cpuMs } from './cpu-time'

const slopeOf = (x: number[], y: number[]): number => {
  const fit = theilSen(x, y)
  if (!fit.ok) throw new Error(fit.reason)
  return fit.slope
}

describe('theilSen', () => {
  test('refuses where no two points differ in x', () => {
    expect(theilSen([], [])).toEqual({ ok: false, reason: 'too-few-readings' })
    expect(theilSen([3], [5])).toEqual({ ok: false, reason: 'too-few-readings' })
    expect(theilSen([3, 3, 3], [5, 6, 7])).toEqual({ ok: false, reason: 'too-few-readings' })
  })

  test('two points give their own slope, and nothing more', () => {
    expect(theilSen([0, 10], [100, 500])).toEqual({
      ok: true,
      slope: 40,
      intercept: 100,
      low: 40,
      high: 40,
      pairs: 1,
    })
  })

  test('a quarter of wild points moves the slope of a line by nothing', () => {
    const x = Array.from({ length: 20 }, (_, i) => i)
    const y = x.map((v) => (v % 4 === 1 ? 1e6 : 7 * v + 3))
    expect(slopeOf(x, y)).toBeCloseTo(7, 9)
  })

  test('the order of the points does not matter', () => {
    const point = fc.tuple(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 0, max: 1e6 }))
    fc.assert(
      fc.property(fc.array(point, { minLength: 2, maxLength: 400 }), (points) => {
        const forward = theilSen(
          points.map((p) => p[0]),
          points.map((p) => p[1]),
        )
        const back = points.slice().reverse()
        expect(
          theilSen(
            back.map((p) => p[0]),
            back.map((p) => p[1]),
          ),
        ).toEqual(forward)
      }),
      { numRuns: runs(50) },
    )
  })

  test('follows shifts and stretches of both axes', () => {
    const integer = fc.integer({ min: -1000, max: 1000 })
    fc.assert(
      fc.property(
        fc.array(fc.tuple(integer, integer), { minLength: 3, maxLength: 30 }),
        integer,
        (points, c) => {
          const x = points.map((p) => p[0])
          const y = points.map((p) => p[1])
          fc.pre(new Set(x).size > 1)
          expect(
            slopeOf(
              x.map((v) => 2 * v + c),
              y.map((v) => 3 * v + c),
            ),
          ).toBeCloseTo((3 * slopeOf(x, y)) / 2, 9)
        },
      ),
    )
  })

  test('the interval holds the slope and widens with its level', () => {
    const coordinate = fc.integer({ min: 0, max: 50 })
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate), { minLength: 4, maxLength: 40 }), (points) => {
        const x = points.map((p) => p[0])
        const y = points.map((p) => p[1])
        fc.pre(new Set(x).size > 1)
        const narrow = theilSen(x, y)
        const wide = theilSen(x, y, 1.959963984540054)
        if (!narrow.ok || !wide.ok) throw new Error('points differ in x')
        expect(narrow.low).toBeLessThanOrEqual(narrow.slope)
        expect(narrow.high).toBeGreaterThanOrEqual(narrow.slope)
        expect(wide.low).toBeLessThanOrEqual(narrow.low)
        expect(wide.high).toBeGreaterThanOrEqual(narrow.high)
      }),
    )
  })

  test('ten thousand points cost no more than three hundred, and still give the slope', () => {
    const x = Array.from({ length: 10_000 }, (_, i) => i / 50)
    const y = x.map((v, i) => 60 * v + 40 * Math.sin(i))
    expect(cpuMs(() => theilSen(x, y))).toBeLessThan(250)
    const fit = theilSen(x, y)
    if (!fit.ok) throw new Error(fit.reason)
    expect(fit.pairs).toBe((300 * 299) / 2)
    expect(Math.abs(fit.slope - 60)).toBeLessThan(0.5)
  })
})
