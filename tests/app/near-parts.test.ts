import fc from 'fast-check'
import { expect, test } from 'vitest'
import { partsWithin, stretchesOf } from '@/app/(people)/near-parts'
import { runs } from '../runs'

/** A list by its parts' heights, and which of them are on the page. */
const someList = fc
  .array(fc.tuple(fc.integer({ min: 1, max: 400 }), fc.boolean()), { minLength: 1, maxLength: 40 })
  .map((parts) => ({
    heights: parts.map(([height]) => height),
    onPage: parts.flatMap(([, isOn], part) => (isOn ? [part] : [])),
  }))

test('stretches are the whole list once, each part on the page alone', () => {
  fc.assert(
    fc.property(someList, ({ heights, onPage }) => {
      const stretches = stretchesOf(onPage, heights.length)
      const parts = stretches.flatMap(({ from, to }) => Array.from({ length: to - from }, (_, i) => from + i))
      expect(parts).toEqual(heights.map((_, part) => part))
      for (const part of onPage) expect(stretches).toContainEqual({ from: part, to: part + 1 })
      // No two rooms beside each other.
      const rooms = stretches.filter(({ from }) => !onPage.includes(from))
      for (const { to } of rooms) expect(to === heights.length || onPage.includes(to)).toBe(true)
    }),
    { numRuns: runs(200) },
  )
})

test('parts that touch what is looked at are found as if each stood on the page, the middle one first', () => {
  fc.assert(
    fc.property(
      someList,
      fc.integer({ min: -3000, max: 3000 }),
      fc.integer({ min: 1, max: 3000 }),
      ({ heights, onPage }, listTop, size) => {
        const tops = heights.map((_, part) => listTop + heights.slice(0, part).reduce((a, b) => a + b, 0))
        const end = tops.at(-1)! + heights.at(-1)!
        const looked = { top: 0, bottom: size }
        const touching = heights.flatMap((height, part) =>
          tops[part]! + height > looked.top && tops[part]! < looked.bottom ? [part] : [],
        )
        const stretches = stretchesOf(onPage, heights.length).map((each) => ({
          ...each,
          top: tops[each.from]!,
        }))
        const found = partsWithin(stretches, end, looked, (part) => heights[part]!)
        expect(found.toSorted((a, b) => a - b)).toEqual(touching)
        const middle = size / 2
        const over = touching.find((part) => tops[part]! <= middle && tops[part]! + heights[part]! >= middle)
        if (over !== undefined) {
          const [first] = found as [number]
          expect(tops[first]! <= middle && tops[first]! + heights[first]! >= middle).toBe(true)
        }
      },
    ),
    { numRuns: runs(500) },
  )
})
