/** What the page of the plan says: costs, gaps, obstacles, why a visit is where it is; and what its forms take. */
import { expect, test } from 'vitest'
import { leftAddress, leftSortIn, sortedBy, sortLeft } from '@/app/(people)/plan/left-sort'
import { awayTyped, bayTyped, exceptTyped, termsTyped, workTyped } from '@/app/(people)/plan/plan-typed'
import {
  actSentence,
  costWords,
  gapWords,
  moreHoursWords,
  obstacleWords,
  whySentences,
} from '@/app/(people)/plan/plan-words'
import { formatsFor } from '@/app/ui/formats'
import { parseDay } from '@/lib/units/dates'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const MONDAY = parseDay('2026-06-01')!
const places = { weeksOn: [MONDAY, MONDAY + 7], bays: [{ name: 'Hall' }, { name: 'Pit' }] }
const told = { places, formats }

test('what a move does to the gain, and nothing where it is rounding', () => {
  expect(costWords(-41.6, formats)).toBe('costs about €42')
  expect(costWords(15, formats)).toBe('gains about €15')
  expect(costWords(-0.2, formats)).toBe('costs nothing')
})

test('what is left over is sorted by its address, and turned round by the same heading', () => {
  const left = [
    { job: 'a', unit: 'V-10', stop: false, why: 'no-hours' as const, gain: 5 },
    { job: 'b', unit: 'V-2', stop: false, why: 'part-late' as const, gain: 50 },
    { job: 'c', unit: 'V-1', stop: false, why: 'no-hours' as const, gain: 5 },
  ]
  const hours: Record<string, number> = { a: 1, b: 2, c: 3 }
  const sorted = (query: string) =>
    sortLeft(left, leftSortIn({ left: query }), (job) => hours[job]!).map(({ job }) => job)
  expect(sorted('')).toEqual(['b', 'c', 'a'])
  expect(sorted('no-such')).toEqual(['b', 'c', 'a'])
  expect(sorted('unit')).toEqual(['c', 'b', 'a'])
  expect(sorted('-hours')).toEqual(['c', 'b', 'a'])
  expect(sorted('why')).toEqual(['b', 'c', 'a'])
  expect(leftAddress(sortedBy('hours', leftSortIn({})))).toBe('/plan?left=-hours')
  expect(leftAddress(sortedBy('unit', leftSortIn({ left: 'unit' })))).toBe('/plan?left=-unit')
})

test('how near a plan is to its bound', () => {
  expect(gapWords({ gain: 1000, bound: 1000.1 }, formats)).toBe('No plan gains more.')
  expect(gapWords({ gain: 900, bound: 1000 }, formats)).toBe(
    'No plan can gain more than about €100 beyond that (10%).',
  )
  expect(gapWords({ gain: 900, bound: null }, formats)).toMatch(/not found out/)
})

test('what keeps a visit from a place', () => {
  const takenBy = ['A1', 'A2', 'A3', 'A4']
  expect(obstacleWords({ reason: 'hours-full', needed: 3, free: 1.5, takenBy }, told)).toBe(
    '1.5 of 3 hours free, A1, A2, A3 and 1 more there',
  )
  expect(obstacleWords({ reason: 'too-long', needed: 9, most: 6 }, told)).toBe('needs 9 hours, there are 6')
  expect(obstacleWords({ reason: 'part-late', jobs: [], inWeek: 1 }, told)).toMatch(/the week of 8 Jun 2026/)
})

const nowhere = { feasible: false, gain: 0, difference: 0, obstacles: [] }
const why = {
  ...{
    unit: 'A1',
    week: 0,
    better: [],
    instead: null,
    pinned: null,
    comesAnyway: false,
    partsToGet: [],
    weeks: [],
  },
}

test('why a visit is where it is: the better week and what keeps it from there, the next best, other work', () => {
  const better = {
    ...{ week: 1, bay: 0, feasible: false, gain: 60, difference: 20 },
    obstacles: [{ reason: 'away' as const }],
  }
  const instead = { ...nowhere, week: 1, bay: 1, feasible: true, difference: -30 }
  const said = whySentences({ ...why, better: [better], instead, comesAnyway: true }, told)
  expect(said).toEqual([
    'It is here that week for other work, so that coming costs nothing more.',
    'In the week of 8 Jun 2026 it would gain about €20 more, but: it is not available then.',
    'The next best that is free is the week of 8 Jun 2026: that costs about €30.',
  ])
  expect(whySentences(why, told)).toEqual(['There is no other week in which it could be.'])
})

test('one more bay day is told where it is worth most', () => {
  const more = [1, 80].map((byPlanningAgain, week) => ({ week, hours: 8, byPlanningAgain, atTheMargin: 0 }))
  expect(moreHoursWords(more, told)).toMatch(/8 hours.*the week of 8 Jun 2026: about €80/)
  expect(moreHoursWords([{ ...more[0]!, byPlanningAgain: 0 }], told)).toMatch(/next to nothing in any week/)
  expect(moreHoursWords([], told)).toBeNull()
})

test('the last act says where to and at what cost', () => {
  const act = { act: 'moved' as const, unit: 'A1', to: { weekOn: MONDAY, bay: 1 }, cost: 42 }
  expect(actSentence(act, told)).toBe('A1 is moved to the week of 1 Jun 2026, Pit. That costs about €42.')
})

test('the forms take what people type, and say what is wrong', () => {
  expect(termsTyped.parse({ weeks: '8', kept: '12,5' })).toEqual({ weeks: 8, kept: 0.125 })
  expect(termsTyped.safeParse({ weeks: '0', kept: '101' }).error?.issues).toHaveLength(2)
  expect(bayTyped(' Hall ', '37,5')).toEqual({ ok: true, bay: { name: 'Hall', hours: 37.5 } })
  expect(bayTyped('Hall', '')).toEqual({ ok: true, bay: { name: 'Hall', hours: 0 } })
  expect(bayTyped('', ' ')).toEqual({ ok: true, bay: null })
  expect([bayTyped('', '8').ok, bayTyped('Hall', '-1').ok, bayTyped('Hall', 'many').ok]).toEqual([
    false,
    false,
    false,
  ])
  const work = { what: 'tyres', unit: ' ', bay: '1', weekOn: '2026-06-01', hours: '1.5' }
  expect(workTyped.parse(work)).toEqual({ what: 'tyres', unit: null, bay: 1, weekOn: MONDAY, hours: 1.5 })
  expect(workTyped.safeParse({ ...work, hours: '0' }).success).toBe(false)
  expect(exceptTyped.safeParse({ bay: '0', weekOn: '2026-06-02', hours: '0' }).success).toBe(false)
  const away = awayTyped(MONDAY)
  expect(away.safeParse({ unit: 'A1', from: '2026-06-03', until: '2026-06-02' }).success).toBe(false)
  expect(away.safeParse({ unit: 'A1', from: '2026-05-03', until: '2026-06-02' }).success).toBe(true)
})
