import { expect, it } from 'vitest'
import { findRoot } from '@/lib/model/roots'

it.each([
  ['rising', (x: number) => x * x - 2, 0, 5, Math.SQRT2],
  ['falling', (x: number) => 2 - x * x, 0, 5, Math.SQRT2],
  ['at zero', (x: number) => x, -1, 3, 0],
  ['infinite at an end', (x: number) => 1 / x - 4, 0, 9, 0.25],
  ['flat at the root', (x: number) => (x - 1) ** 3, 0, 7, 1],
  ['steep beyond it', (x: number) => Math.expm1(40 * (x - 1)), 0, 9, 1],
  ['at the end of the bracket', (x: number) => x - 3, 1, 3, 3],
  ['far out', (x: number) => x - 1e12, 0, 1e15, 1e12],
] as const)('finds the root of a function, %s', (_, f, low, high, root) => {
  expect(Math.abs(findRoot(f, low, high) - root)).toBeLessThanOrEqual(1e-12 * Math.max(1, root))
})

it('answers the upper end where the signs do not differ', () => {
  expect(findRoot((x) => x + 1, 0, 5)).toBe(5)
})
