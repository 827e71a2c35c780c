import { expect, test } from 'vitest'
import { parseLibrary } from '@/lib/records/library'
import { vehiclesWithPart } from '@/lib/scoring/life-ways'

/** A family with a part that some versions of the engine lack. */
function familyOf(versions: string[], lacking: string[]) {
  const parsed = parseLibrary(
    JSON.stringify({
      format: 'gudgeon-library/1',
      name: 'L',
      families: [
        {
          key: 'f',
          name: 'F',
          cylinders: 4,
          variants: versions.map((key) => ({ key, name: key })),
          weakPoints: [
            {
              key: 'p',
              component: 'P',
              onset: { p10: 100, p50: 200 },
              warning: 10,
              confidence: 'experience',
              severity: 'plan',
              variants: Object.fromEntries(lacking.map((key) => [key, { absent: true }])),
            },
          ],
        },
      ],
    }),
  )
  if (!parsed.ok) throw new Error(parsed.errors[0]?.message)
  return parsed.library.families[0]!
}

test.each([
  { versions: [], lacking: [], counted: { '': 3 }, expected: 3 },
  { versions: ['a', 'b'], lacking: ['a'], counted: { a: 5, b: 2 }, expected: 2 },
  { versions: ['a', 'b'], lacking: ['a'], counted: { a: 5, b: 2, '': 4 }, expected: 4 },
  { versions: ['a', 'b', 'c', 'd'], lacking: ['a'], counted: { '': 4 }, expected: 3 },
  { versions: ['a', 'b'], lacking: ['a', 'b'], counted: { a: 5, b: 2, '': 4 }, expected: 0 },
  { versions: ['a'], lacking: ['a'], counted: { a: 5, unheard: 2 }, expected: 2 },
])('of $counted in $versions without it in $lacking, $expected have it', ({ expected, ...stated }) => {
  const family = familyOf(stated.versions, stated.lacking)
  const counted = Object.entries(stated.counted).map(([variant, vehicles]) => ({
    variant: variant || null,
    vehicles,
  }))
  expect(vehiclesWithPart(family, family.weakPoints[0]!, counted)).toBeCloseTo(expected, 12)
})
