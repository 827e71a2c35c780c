import { expect, test } from 'vitest'
import { jobsWithParts, type PlanParts, partArrival } from '@/lib/decisions/part-arrival'
import type { PlanJob } from '@/lib/decisions/plan-request'
import type { PartStock } from '@/lib/records/part-stock'

const TODAY = 20_000
const stock = (said: Partial<PartStock> = {}): PartStock => ({
  part: 'P',
  onHand: 1,
  onOrder: 2,
  dueOn: TODAY + 9,
  leadDays: 20,
  price: null,
  supplier: null,
  ...said,
})

test.each([
  ['nobody has said anything', undefined, 5, 'unsaid', TODAY],
  ['nobody has counted', stock({ onHand: null, onOrder: null }), 1, 'unsaid', TODAY],
  ['it is there', stock(), 1, 'on-hand', TODAY],
  ['it is to come', stock(), 2, 'on-order', TODAY + 9],
  ['the last one to come', stock(), 3, 'on-order', TODAY + 9],
  ['it must be ordered', stock(), 4, 'to-order', TODAY + 20],
  ['it must be ordered, and nobody knows how long', stock({ leadDays: null }), 4, 'to-order', null],
  ['to come on a day not said', stock({ dueOn: null }), 2, 'on-order', TODAY + 20],
  ['to come today', stock({ dueOn: TODAY }), 2, 'on-order', TODAY],
  ['it should have come', stock({ dueOn: TODAY - 1 }), 2, 'overdue', TODAY + 20],
  ['it should have come, and nobody knows', stock({ dueOn: TODAY - 1, leadDays: null }), 2, 'overdue', null],
  ['none there, none to come', stock({ onHand: 0, onOrder: 0, dueOn: null }), 1, 'to-order', TODAY + 20],
] as const)('%s', (_, said, pieces, source, from) => {
  expect(partArrival(said, pieces, TODAY)).toEqual({ source, from })
})

const job = (unit: string, gain: number, said: Partial<PlanJob> = {}): PlanJob => ({
  id: unit,
  unit,
  weakPoint: 'pump',
  positions: [1],
  hours: 1,
  sharedHours: 0,
  access: null,
  stop: false,
  gainByWeek: [gain, gain / 2, 0, 0],
  partsInWeek: 0,
  ...said,
})
const parts = (said: Partial<PlanParts> = {}): PlanParts => ({
  partOf: () => 'P',
  stock: new Map([['P', stock()]]),
  today: TODAY,
  firstDay: TODAY + 2,
  weeks: 4,
  ...said,
})
const weeksOf = (jobs: PlanJob[], said: Partial<PlanParts> = {}) =>
  jobsWithParts(jobs, parts(said)).map(({ job }) => job.partsInWeek)

test('what is there goes to what gains most, and who comes later waits', () => {
  const jobs = [job('low', 1), job('high', 9), job('mid', 5), job('more', 4)]
  // Of 1 there and 2 to come on day 9: the plan's second week begins on day 9 exactly. One more takes 20 days.
  expect(weeksOf(jobs)).toEqual([3, 0, 1, 1])
  expect(weeksOf(jobs, { firstDay: TODAY + 1 })).toEqual([3, 0, 2, 2])
})

test('what is agreed has its part before what gains more', () => {
  expect(weeksOf([job('high', 9), job('agreed', 1)], { agreed: new Set(['agreed']) })).toEqual([1, 0])
})

test('a vehicle that must not be driven comes first and waits for no part', () => {
  const stopped = jobsWithParts(
    [job('high', 9), job('stop', -3, { stop: true })],
    parts({ stock: new Map([['P', stock({ onHand: 0, onOrder: 0, dueOn: null })]]) }),
  )
  expect(stopped.map(({ job, arrival }) => [job.partsInWeek, arrival])).toEqual([
    [3, { source: 'to-order', from: TODAY + 20 }],
    [0, { source: 'to-order', from: TODAY + 20 }],
  ])
  expect(weeksOf([job('high', 9), job('stop', -3, { stop: true })])).toEqual([1, 0])
})

test('a job takes a piece for each position', () => {
  expect(weeksOf([job('pair', 9, { positions: [1, 2] }), job('one', 1)])).toEqual([1, 1])
})

test('a part that comes after the plan, or nobody knows when, puts the job beyond its last week', () => {
  const none = { onHand: 0, onOrder: 0, dueOn: null }
  expect(weeksOf([job('a', 1)], { stock: new Map([['P', stock({ ...none, leadDays: 400 })]]) })).toEqual([4])
  expect(weeksOf([job('a', 1)], { stock: new Map([['P', stock({ ...none, leadDays: null })]]) })).toEqual([4])
})

test('nothing is held back for a part of which nobody has said anything, or where none is known', () => {
  expect(weeksOf([job('a', 1), job('b', 2)], { stock: new Map() })).toEqual([0, 0])
  expect(weeksOf([job('a', 1, { partsInWeek: 3 })], { partOf: () => null })).toEqual([0])
})
