import fc from 'fast-check'
import { expect, test } from 'vitest'
import { sharedFamily, writtenFamily } from '@/lib/intake/written-family'
import { type Family, parseLibrary } from '@/lib/records/library'
import { familySchema } from '@/lib/records/library-schema'
import { EXAMPLE_LIBRARY, exampleLibrary } from '../records/example-library'
import { anyFamily } from '../records/small-families'

const library = exampleLibrary()
const family = library.families[0] as Family

test('a family that is written and read again is the same', () => {
  expect(familySchema.parse(writtenFamily(family))).toEqual(family)
  const placed = {
    ...family,
    signs: family.signs.map((sign) => ({ ...sign, positions: 3, positioned: true })),
  }
  expect(familySchema.parse(writtenFamily(placed))).toEqual(placed)
  fc.assert(
    fc.property(anyFamily, (any) => {
      expect(familySchema.parse(writtenFamily(any))).toEqual(any)
    }),
  )
})

test('a family that is shared is a library file without the organisation’s prices, with whose statement it is', () => {
  expect(EXAMPLE_LIBRARY.labourRate).toBeGreaterThan(0)
  const weakPoints = family.weakPoints.map((point) => ({
    ...point,
    ...{ statedBy: 'A. Reed', statedOn: '2026-01-31', reviewBy: '2027-01-31' },
  }))
  const text = sharedFamily(library, { ...family, weakPoints }, 'EUR')
  expect(Object.keys(JSON.parse(text))).toEqual(['format', 'name', 'currency', 'zones', 'families'])
  expect(JSON.parse(text).zones).toEqual(['inlet side', 'cab'])
  const parsed = parseLibrary(text)
  if (!parsed.ok) throw new Error(parsed.errors[0]?.message)
  expect(parsed.library.families).toEqual([{ ...family, weakPoints }])
  expect(parsed.library).toMatchObject({ currency: 'EUR', labourRate: 0, dayOffRoad: 0, visit: 0 })
})
