/** Which visits to give the hours to, and where they run out. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { hoursAWeek, rankVisits, savedAnHour, type VisitToRank } from '@/lib/decisions/rank-visits'

const visit = (hours: number, saving: number, stop = false): VisitToRank => ({
  ...{ hours, saving, savingLow: saving - 10, savingHigh: saving + 10, price: 100, stop },
})
const anyVisit = fc
  .tuple(
    fc.double({ min: 0, max: 12, noNaN: true }),
    fc.double({ min: -500, max: 2000, noNaN: true }),
    fc.boolean(),
  )
  .map(([hours, saving, stop]) => visit(hours, saving, stop))

test('by hour the quick ones come first, by saving the large ones; what must not be driven before both', () => {
  const [quick, large, stop] = [visit(1, 100), visit(10, 500), visit(8, -20, true)]
  expect(rankVisits([large, quick, stop], { by: 'bay-hour', hours: null }).above).toEqual([
    stop,
    quick,
    large,
  ])
  expect(rankVisits([quick, large, stop], { by: 'saving', hours: null }).above).toEqual([stop, large, quick])
  const ranked = rankVisits([large, quick, stop], { by: 'bay-hour', hours: 9 })
  expect(ranked.above).toEqual([stop, quick])
  expect(ranked.sums.above).toEqual({
    ...{ visits: 2, hours: 9, price: 200, saving: 80, savingLow: 60, savingHigh: 100 },
  })
  expect(ranked.below).toEqual([large])
})

test('hours that are not enough for what must not be driven are told', () => {
  const ranked = rankVisits([visit(5, 10, true), visit(5, 900, true), visit(1, 900)], {
    by: 'saving',
    hours: 6,
  })
  expect([ranked.above.length, ranked.stopsBelow]).toEqual([1, 1])
  expect(rankVisits([visit(5, 10, true)], { by: 'saving', hours: 0 })).toMatchObject({
    above: [],
    stopsBelow: 1,
  })
})

test('nothing is lost, the hours hold, the next one would not fit; no other set of as many hours saves more by the hour', () => {
  fc.assert(
    fc.property(
      fc.array(anyVisit, { maxLength: 9 }),
      fc.double({ min: 0, max: 60, noNaN: true }),
      (visits, hours) => {
        const { above, below, sums } = rankVisits(visits, { by: 'bay-hour', hours })
        expect(new Set([...above, ...below])).toEqual(new Set(visits))
        expect(sums.above.hours).toBeLessThanOrEqual(hours + 1e-6)
        const [next] = below
        if (next) expect(sums.above.hours + next.hours).toBeGreaterThan(hours)
        if (visits.some(({ stop }) => stop)) return
        // Against all subsets: with the hours that are given, none saves more, among visits that save something at all.
        const worth = visits.filter(({ saving }) => saving > 0)
        const given = rankVisits(worth, { by: 'bay-hour', hours }).sums.above
        for (let set = 0; set < 2 ** worth.length; set++) {
          const chosen = worth.filter((_, i) => set & (2 ** i))
          const sum = (key: 'hours' | 'saving') => chosen.reduce((all, each) => all + each[key], 0)
          if (sum('hours') <= given.hours) expect(sum('saving')).toBeLessThanOrEqual(given.saving + 1e-6)
        }
      },
    ),
    { numRuns: 60 },
  )
})

test('what takes no hours has no saving an hour', () => {
  expect([savedAnHour(visit(0, 50)), savedAnHour(visit(2, 50))]).toEqual([null, 25])
})

test('a week of the bays is what they have, less what is kept for breakdowns', () => {
  expect(hoursAWeek({ bays: [{ hours: 30 }, { hours: 25 }], kept: 0.2 })).toBe(44)
  expect(hoursAWeek({ bays: [], kept: 0.2 })).toBe(0)
})
