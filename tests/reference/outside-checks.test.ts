import { expect, it } from 'vitest'
import { isOrphan, outsideCheck, readRows } from './outside-checks'

it('holds no row whose test is gone', () => {
  expect(readRows().filter(isOrphan)).toEqual([])
})

it('knows a row whose test is gone', () => {
  expect(isOrphan({ file: 'no-such.test.ts', what: 'anything' })).toBe(true)
  expect(isOrphan({ file: 'two-stage.test.ts', what: `a name ${'that'} no test has` })).toBe(true)
})

const limits = [
  ['absolute', { absolute: 1e-3 }, 100, 100.0005, 100.002],
  ['relative', { relative: 1e-3 }, 100, 100.05, 100.2],
  ['relative with a floor', { relative: 1e-3, floor: 10 }, 1, 1.005, 1.02],
  ['exact', 'exact', 3, 3, 3 + 1e-15],
] as const

it.each(limits)('refuses what lies outside an %s tolerance', (_, tolerance, expected, inside, outside) => {
  const check = outsideCheck({ what: 'trial', formula: '', source: '', tolerance })
  expect(() => check.close(inside, expected, 'inside')).not.toThrow()
  expect(() => check.close(outside, expected, 'outside')).toThrow(/trial, outside/)
  expect(() => check.close(Number.NaN, expected, 'NaN')).toThrow()
  expect(() => check.equal([1], [2], 'lists')).toThrow()
})

it('takes equal infinities as equal', () => {
  const check = outsideCheck({ what: 'trial', formula: '', source: '', tolerance: { relative: 1e-9 } })
  check.close(Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, 'infinite')
  expect(() => check.close(1, Number.POSITIVE_INFINITY, 'finite')).toThrow()
})
