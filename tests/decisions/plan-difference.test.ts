/** What another plan would change, and what that does to the failures to expect. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  chanceWithin,
  failuresUntil,
  isDifferent,
  type PlannedVisit,
  planDifference,
} from '@/lib/decisions/plan-difference'

const visit = (unit: string, weekOn: number, jobs: string[] = ['a'], bay = 0): PlannedVisit => ({
  ...{ unit, weekOn, bay, jobs },
})

test('each vehicle moves, comes in, goes, has other jobs or another bay, or stays', () => {
  const before = [
    visit('V-10', 7),
    visit('V-2', 0),
    visit('V-3', 0),
    visit('V-4', 0),
    visit('V-5', 0, ['a', 'b']),
  ]
  const after = [
    ...[visit('V-10', 0), visit('V-9', 14), visit('V-3', 0, ['a', 'c']), visit('V-4', 0, ['a'], 1)],
    visit('V-5', 0, ['b', 'a']),
  ]
  const difference = planDifference(before, after)
  expect(difference).toEqual({
    moved: [{ unit: 'V-10', from: 7, to: 0 }],
    added: [{ unit: 'V-9', to: 14 }],
    dropped: [{ unit: 'V-2', from: 0 }],
    ...{ otherJobs: ['V-3'], otherBay: ['V-4'], same: 1 },
  })
  expect(isDifferent(difference)).toBe(true)
  expect(isDifferent(planDifference(before, before))).toBe(false)
})

test('every vehicle of either plan is told once, and back again the same are told', () => {
  const visits = fc
    .uniqueArray(fc.integer({ min: 0, max: 8 }), { maxLength: 8 })
    .chain((units) =>
      fc.tuple(
        ...units.map((unit) =>
          fc
            .tuple(fc.integer({ min: 0, max: 2 }), fc.subarray(['a', 'b']), fc.integer({ min: 0, max: 1 }))
            .map(([week, jobs, bay]) => visit(`V-${unit}`, 7 * week, jobs, bay)),
        ),
      ),
    )
  fc.assert(
    fc.property(visits, visits, (before, after) => {
      const [there, back] = [planDifference(before, after), planDifference(after, before)]
      const count = ({ moved, added, dropped, otherJobs, otherBay, same }: typeof there) =>
        [moved, added, dropped, otherJobs, otherBay].reduce((sum, list) => sum + list.length, same)
      const units = new Set([...before, ...after].map(({ unit }) => unit))
      expect(count(there)).toBe(units.size)
      expect(back.added.map(({ unit }) => unit).sort()).toEqual(there.dropped.map(({ unit }) => unit).sort())
      expect(back.moved.map(({ unit }) => unit).sort()).toEqual(there.moved.map(({ unit }) => unit).sort())
      expect(isDifferent(planDifference(after, [...after].reverse()))).toBe(false)
    }),
  )
})

test('the chance within any number of days meets those that are kept, and never falls', () => {
  const known = fc
    .tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }))
    .map(([a, b]) => [
      { days: 30, pFail: Math.min(a, b) },
      { days: 90, pFail: Math.max(a, b) },
    ])
  fc.assert(
    fc.property(known, fc.integer({ min: 0, max: 400 }), (chances, days) => {
      for (const { days: at, pFail } of chances) expect(chanceWithin(chances, at)).toBeCloseTo(pFail, 7)
      const [now, later] = [chanceWithin(chances, days), chanceWithin(chances, days + 1)]
      expect(now).toBeGreaterThanOrEqual(0)
      expect(later).toBeGreaterThanOrEqual(now - 1e-12)
      expect(later).toBeLessThanOrEqual(1)
    }),
  )
  expect(chanceWithin([], 40)).toBe(0)
  expect(chanceWithin([{ days: 90, pFail: 0.19 }], 45)).toBeCloseTo(0.1, 9)
  expect(chanceWithin([{ days: 90, pFail: 0.19 }], 180)).toBeCloseTo(1 - 0.81 ** 2, 9)
})

test('a part is exposed until its visit, or until the end', () => {
  const chancesOf = new Map([['a', [{ days: 90, pFail: 0.19 }]]])
  const at = { today: 100, end: 190, chancesOf }
  expect(failuresUntil(['a', 'not known'], [], at)).toBeCloseTo(0.19, 9)
  expect(failuresUntil(['a'], [visit('V-1', 145)], at)).toBeCloseTo(0.1, 9)
  expect(failuresUntil(['a'], [visit('V-1', 93)], at)).toBe(0)
})
