import { expect, test } from 'vitest'
import { wayBack } from '@/app/(door)/way-back'

test.each([
  ['/vehicles/B%2010?horizon=30', '/vehicles/B%2010?horizon=30'],
  ['/', '/'],
  [undefined, '/'],
  ['', '/'],
  ['settings', '/'],
  ['//elsewhere.example/x', '/'],
  ['/\\elsewhere.example', '/'],
  ['/\t/elsewhere.example', '/'],
  ['https://elsewhere.example', '/'],
  ['javascript:alert(1)', '/'],
  ['/door?from=/', '/'],
  ['/..//elsewhere.example', '/'],
])('from %j one goes back to %s', (from, to) => {
  expect(wayBack(from)).toBe(to)
})
