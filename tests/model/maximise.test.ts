import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { cholesky, invertPositive, type Matrix, multiply, solveFactored } from '@/lib/model/cholesky'
import { maximise, type Smooth } from '@/lib/model/maximise'

const smooth =
  (value: (x: number, y: number) => number, ...slopes: ((x: number, y: number) => number)[]): Smooth =>
  (point) => {
    const [x, y] = [point[0]!, point[1] ?? 0]
    return { value: value(x, y), gradient: Float64Array.from(slopes, (slope) => slope(x, y)) }
  }

/** Minus Rosenbrock's banana: its peak is at (1, 1), at the end of a bent ridge. */
const banana = smooth(
  (x, y) => -((1 - x) ** 2) - 100 * (y - x * x) ** 2,
  (x, y) => 2 * (1 - x) + 400 * x * (y - x * x),
  (x, y) => -200 * (y - x * x),
)

describe('the greatest value', () => {
  it('is found along a bent ridge, with the curvature there', () => {
    const peak = maximise(banana, [[-1.2, 1]], [1, 1])!
    expect(peak.point[0]).toBeCloseTo(1, 6)
    expect(peak.point[1]).toBeCloseTo(1, 6)
    // The inverse of [[802, −400], [−400, 200]].
    const exact = [
      [0.5, 1],
      [1, 2.005],
    ]
    exact.forEach((row, i) => {
      row.forEach((value, j) => {
        expect(peak.covariance[i]![j]! / value).toBeCloseTo(1, 4)
      })
    })
  })

  it('is the higher of two peaks, one from each start', () => {
    const twoPeaks = smooth(
      (x) => -((x * x - 1) ** 2) + x / 4,
      (x) => -4 * x * (x * x - 1) + 1 / 4,
    )
    for (const starts of [
      [[-1], [1]],
      [[1], [-1]],
    ])
      expect(maximise(twoPeaks, starts, [1])!.point[0]).toBeGreaterThan(0)
  })

  it('starts where it is defined', () => {
    const half = smooth(
      (x) => Math.log(x) - x,
      (x) => 1 / x - 1,
    )
    expect(maximise(half, [[-1], [3]], [1])!.point[0]).toBeCloseTo(1, 8)
    expect(maximise(half, [[-1]], [1])).toBeNull()
  })

  it('is not claimed of what rises for ever, or has no peak', () => {
    const slope = smooth(
      (x) => x,
      () => 1,
    )
    expect(maximise(slope, [[0]], [1])).toBeNull()
    const saddle = smooth(
      (x, y) => x * x - y * y,
      (x) => 2 * x,
      (_, y) => -2 * y,
    )
    expect(maximise(saddle, [[0, 0]], [1, 1])).toBeNull()
  })
})

describe('positive definite matrices', () => {
  const entry = fc.double({ min: -2, max: 2, noNaN: true })

  it('are taken apart, solved and inverted', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(entry, { minLength: 4, maxLength: 4 }), { minLength: 4, maxLength: 4 }),
        (b) => {
          const a: Matrix = b.map((row, i) =>
            b.map((other, j) => row.reduce((s, x, k) => s + x * other[k]!, i === j ? 1 : 0)),
          )
          const x = multiply(a, solveFactored(cholesky(a)!, [1, 2, 3, 4]))
          x.forEach((value, i) => {
            expect(value).toBeCloseTo(i + 1, 8)
          })
          const inverse = invertPositive(a)!
          expect(
            multiply(
              a,
              inverse.map((row) => row[0]!),
            )[0],
          ).toBeCloseTo(1, 8)
        },
      ),
    )
  })

  it('are told from others', () => {
    expect(
      cholesky([
        [1, 2],
        [2, 1],
      ]),
    ).toBeNull()
    expect(invertPositive([[Number.NaN]])).toBeNull()
  })
})
