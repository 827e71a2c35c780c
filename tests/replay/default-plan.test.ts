import { expect, it } from 'vitest'
import { defaultPlan, leastDaysOfRecords } from '@/lib/replay/default-plan'
import { cutOffsOf } from '@/lib/replay/replay'
import { readingRow, recordsOf } from '../simulation/record-rows'

const TODAY = 20_500
const recordsBetween = (first: number, last: number) =>
  recordsOf({ readings: [first, last].map((readOn) => readingRow({ unit: 'A', readOn, odometerKm: 10 })) })

it('looks back a month apart over two years, where the records reach', () => {
  const plan = defaultPlan(recordsBetween(18_000, TODAY), TODAY, 90)
  expect(plan).toEqual({ from: TODAY - 90 - 23 * 30, to: TODAY - 90, every: 30, days: 90 })
  expect(cutOffsOf(plan!)).toHaveLength(24)
})

it('leaves half a year before the first day, and a horizon after the last', () => {
  const plan = defaultPlan(recordsBetween(TODAY - 400, TODAY - 20), TODAY, 60)
  expect(plan).toMatchObject({ to: TODAY - 80 })
  expect(plan!.from).toBeGreaterThanOrEqual(TODAY - 400 + 180)
  expect(plan!.from).toBeLessThan(TODAY - 400 + 180 + 30)
})

it('has no day to look back from where records are too short, or none', () => {
  const least = leastDaysOfRecords(90)
  expect(defaultPlan(recordsBetween(TODAY - least + 1, TODAY), TODAY, 90)).toBeNull()
  expect(cutOffsOf(defaultPlan(recordsBetween(TODAY - least, TODAY), TODAY, 90)!)).toEqual([TODAY - 90])
  expect(defaultPlan(recordsOf({}), TODAY, 90)).toBeNull()
})

it('knows no day after today, whatever the records are dated', () => {
  expect(defaultPlan(recordsBetween(18_000, TODAY + 50), TODAY, 90)).toMatchObject({ to: TODAY - 90 })
})
