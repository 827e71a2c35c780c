import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { editDistance, nearestName } from '@/lib/records/nearest'

/** The same distance by its recursive definition, without a table. */
function byDefinition(a: string, b: string): number {
  if (a === '' || b === '') return a.length + b.length
  const [i, j] = [a.length, b.length]
  const options = [
    byDefinition(a.slice(0, -1), b) + 1,
    byDefinition(a, b.slice(0, -1)) + 1,
    byDefinition(a.slice(0, -1), b.slice(0, -1)) + (a[i - 1] === b[j - 1] ? 0 : 1),
  ]
  if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
    options.push(byDefinition(a.slice(0, -2), b.slice(0, -2)) + 1)
  }
  return Math.min(...options)
}

const word = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 5 })

describe('the edit distance', () => {
  test('agrees with its definition', () =>
    fc.assert(fc.property(word, word, (a, b) => editDistance(a, b) === byDefinition(a, b))))
  test('does not depend on the order', () =>
    fc.assert(fc.property(fc.string(), fc.string(), (a, b) => editDistance(a, b) === editDistance(b, a))))
})

describe('the nearest name', () => {
  const known = ['injector', 'inlet-deposits', 'coil', 'pump-gasket']
  test('is found through slips', () => {
    expect(nearestName('injecotr', known)).toBe('injector')
    expect(nearestName('INJECTOR', known)).toBe('injector')
    expect(nearestName('pump_gasket', known)).toBe('pump-gasket')
  })
  test('is null where nothing is like it', () => {
    expect(nearestName('thermostat', known)).toBeNull()
    expect(nearestName('injector', [])).toBeNull()
  })
})
