import { expect, test } from 'vitest'
import { movedLines } from '@/app/(people)/vehicles/[unit]/moved-lines'
import type { VehicleChange } from '@/lib/jobs/vehicle-change'

const ground = { unit: 'V-1', family: null, formats: { count: String } } as unknown as Parameters<
  typeof movedLines
>[1]
const vehicle = (...chances: [before: number | null, after: number | null][]): VehicleChange => ({
  ...{ unit: 'V-1', advice: { before: 'book', after: 'book' } },
  components: chances.map(([before, after], i) => ({
    ...{ weakPoint: 'pump', position: i + 1, pFail: { before, after } },
    advice: { before: 'book', after: 'book' },
  })),
})
const lines = (...chances: [number | null, number | null][]) => movedLines([vehicle(...chances)], ground)

test('a vehicle that loses all of its scores, or comes to have them, says so', () => {
  expect(lines([0.1, null], [0.2, null])).toEqual(['It is not scored any more.'])
  expect(lines([null, 0.1], [null, 0.2])).toEqual(['It is scored now.'])
})

test('what moved by a tenth is told, the greatest move first; otherwise that nothing did', () => {
  expect(lines([0.1, 0.101], [0.2, 0.2])).toEqual(['No chance moved by a tenth or more.'])
  const moved = lines([0.1, 0.2], [0.1, 0.5])
  expect(moved).toHaveLength(2)
  expect(moved[0]).toMatch(/^pump.*1 in 10 → about 1 in 2 within 90 days$/)
  expect(lines()).toEqual(['No chance moved by a tenth or more.'])
  expect(movedLines([], ground)).toEqual(['Its score follows within the minute.'])
})
