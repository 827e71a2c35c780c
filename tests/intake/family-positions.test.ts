import { expect, test } from 'vitest'
import { lostPositions } from '@/lib/intake/family-positions'
import { exampleLibrary } from '../records/example-library'

const family = exampleLibrary().families[0]!
/** The engine with another number of injectors and misfires. */
const having = (positions: number) => ({
  ...family,
  weakPoints: family.weakPoints.map((each) => (each.key === 'injector' ? { ...each, positions } : each)),
  signs: family.signs.map((each) => (each.key === 'misfire' ? { ...each, positions } : each)),
})
const repaired = (position: number, records = 2) => ({
  positions: [{ kind: 'weakPoint' as const, key: 'injector', position, records }],
  codes: [],
})

test('a position that records name and that would be gone is told, with how many records name it', () => {
  expect(lostPositions(family, having(3), repaired(4))).toEqual([
    '2 records say Fuel injector at position 4, and there would be 3: correct what is on record first.',
  ])
  expect(lostPositions(family, having(3), repaired(4, 1))[0]).toMatch(/^1 record says /)
})

test('one that stays, or that the engine did not have before either, is no matter', () => {
  expect(lostPositions(family, having(3), repaired(3))).toEqual([])
  expect(lostPositions(family, having(3), repaired(5))).toEqual([])
  expect(lostPositions(family, having(6), repaired(4))).toEqual([])
})

test('a code stands for its sign at its position', () => {
  const codes = [
    { code: 'P0303', records: 1 },
    { code: 'P0304', records: 5 },
    { code: 'P0420', records: 7 },
  ]
  expect(lostPositions(family, having(3), { positions: [], codes })).toEqual([
    '5 records say “Misfire on one cylinder” at position 4 (code P0304), and there would be 3: correct what is on record first.',
  ])
})

test('what goes altogether is for whoever holds its key', () => {
  const without = { ...family, weakPoints: family.weakPoints.filter(({ key }) => key !== 'injector') }
  expect(lostPositions(family, without, repaired(4))).toEqual([])
})
