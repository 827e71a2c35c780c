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
  expect(lostPositions(family, having(3), repaired(4))).toBe(
    'Records name what there would not be any more: Fuel injector at position 4 (2 records). ' +
      'Correct them first, or leave as many as there are.',
  )
  expect(lostPositions(family, having(3), repaired(4, 1))).toContain('position 4 (1 record).')
})

test('one that stays, or that the engine did not have before either, is no matter', () => {
  expect(lostPositions(family, having(3), repaired(3))).toBeNull()
  expect(lostPositions(family, having(3), repaired(5))).toBeNull()
  expect(lostPositions(family, having(6), repaired(4))).toBeNull()
})

test('a code stands for its sign at its position', () => {
  const codes = [
    { code: 'P0303', records: 1 },
    { code: 'P0304', records: 5 },
    { code: 'P0420', records: 7 },
  ]
  const seen = { kind: 'sign' as const, key: 'misfire', position: 4, records: 2 }
  expect(lostPositions(family, having(3), { positions: [seen], codes })).toContain(
    ': “Misfire on one cylinder” at position 4 (7 records). ',
  )
})

test('of many the most named are told, and how many more there are', () => {
  const positions = [4, 3, 2].flatMap((position) => [
    { kind: 'weakPoint' as const, key: 'injector', position, records: position },
    { kind: 'sign' as const, key: 'misfire', position, records: 10 * position },
  ])
  expect(lostPositions(family, having(1), { positions, codes: [] })).toMatch(
    /: “Misfire.*” at position 4 \(40 records\), .*position 3 \(30.*position 2 \(20.*Fuel injector at position 4 \(4 records\), and 2 more\. /,
  )
})

test('what goes altogether is for whoever holds its key', () => {
  const without = { ...family, weakPoints: family.weakPoints.filter(({ key }) => key !== 'injector') }
  expect(lostPositions(family, without, repaired(4))).toBeNull()
})
