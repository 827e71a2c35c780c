import { expect, it } from 'vitest'
import { bisect } from '@/lib/model/roots'

it.each([
  ['rising', (x: number) => x * x - 2, 0, 5, Math.SQRT2],
  ['falling', (x: number) => 2 - x * x, 0, 5, Math.SQRT2],
  ['at zero', (x: number) => x, -1, 3, 0],
  ['far out', (x: number) => x - 1e12, 0, 1e15, 1e12],
] as const)('finds the root of a function, %s', (_, f, low, high, root) => {
  expect(Math.abs(bisect(f, low, high) - root)).toBeLessThanOrEqual(1e-13 * Math.max(1, root))
})
