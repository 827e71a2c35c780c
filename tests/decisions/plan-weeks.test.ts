/** Weeks of a plan: where they begin, what is left of the one that has begun, which are closed, what a request is made of. */
import { expect, test } from 'vitest'
import { checkPlanRequest, freeHours } from '@/lib/decisions/plan-request'
import {
  closedWeeks,
  firstDayOf,
  mondayOf,
  type PlanStated,
  planAsked,
  shareLeft,
} from '@/lib/decisions/plan-weeks'
import { parseDay } from '@/lib/units/dates'

const day = (text: string) => parseDay(text)!
const MONDAY = day('2026-06-01') // a Monday by any calendar

test('the Monday of each day, and a plan that begins with the week, or after the weekend', () => {
  for (let i = 0; i < 7; i++) expect(mondayOf(MONDAY + i)).toBe(MONDAY)
  expect(new Date(MONDAY * 86_400_000).getUTCDay()).toBe(1)
  expect([0, 1, 2, 3, 4, 5, 6].map((i) => firstDayOf(MONDAY + i) - MONDAY)).toEqual([0, 0, 0, 0, 0, 7, 7])
  expect(mondayOf(-1)).toBe(-3) // 31 December 1969 was a Wednesday
})

test('of a week that has begun the working days that are left count', () => {
  expect([-3, 0, 1, 4, 5, 9].map((i) => shareLeft(MONDAY, MONDAY + i))).toEqual([1, 1, 0.8, 0.2, 0, 0])
})

test('a week is closed when all of its working days that are left are', () => {
  const weeks = [MONDAY, MONDAY + 7, MONDAY + 14]
  const closed = (from: number, until: number, today = MONDAY - 3) =>
    closedWeeks({ from: MONDAY + from, until: MONDAY + until }, weeks, today)
  expect(closed(0, 4)).toEqual([0])
  expect(closed(0, 3)).toEqual([])
  expect(closed(1, 4)).toEqual([])
  expect(closed(1, 4, MONDAY + 1)).toEqual([0])
  expect(closed(2, 13)).toEqual([1])
  expect(closed(-9, 60)).toEqual([0, 1, 2])
})

const job = {
  id: 'A1 pump 1',
  unit: 'A1',
  weakPoint: 'pump',
  positions: [1],
  hours: 2,
  sharedHours: 0,
  access: null,
}
const STATED: PlanStated = {
  terms: {
    weeks: 2,
    kept: 0.25,
    bays: [{ name: 'One', hours: 20, except: [{ weekOn: MONDAY + 7, hours: 8 }] }],
  },
  firstDay: MONDAY,
  weeks: 2,
  today: MONDAY + 2,
  jobs: [{ ...job, stop: false, gainByWeek: [5, 4], partsInWeek: 0 }],
  work: [
    { unit: null, weekOn: MONDAY + 7, bay: 0, hours: 1 },
    { unit: null, weekOn: MONDAY + 70, bay: 0, hours: 1 },
    { unit: null, weekOn: MONDAY, bay: 3, hours: 1 },
  ],
  closed: [{ unit: 'A1', from: MONDAY, until: MONDAY + 6, why: 'away' }],
  standing: [
    { unit: 'A1', weekOn: MONDAY + 7, bay: 9, jobs: [job.id, 'gone'], why: 'promised' },
    { unit: 'B2', weekOn: MONDAY, bay: 0, jobs: ['gone'], why: 'pinned' },
  ],
  prices: { visit: 40, labourRate: 60 },
}

test('a request holds what is stated, as far as weeks and bays go, and is valid', () => {
  const checked = checkPlanRequest(planAsked(STATED))
  if (!checked.ok) throw new Error(JSON.stringify(checked.errors))
  const request = checked.value
  // Wednesday: three days of five are left; a quarter is kept, and an hour of the other week is taken.
  expect(freeHours(request)).toEqual([[20 * 0.6 * 0.75, 8 * 0.75 - 1]])
  expect(request.booked).toHaveLength(1)
  expect(request.forbidden).toEqual([{ unit: 'A1', week: 0, bay: null, why: 'away' }])
  expect(request.pinned).toEqual([{ unit: 'A1', week: 1, bay: null, jobs: [job.id], why: 'promised' }])
})
