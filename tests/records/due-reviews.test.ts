import { expect, test } from 'vitest'
import { dueReviews } from '@/lib/records/due-reviews'
import { parseDay } from '@/lib/units/dates'
import { exampleLibrary } from './example-library'

test('what was to be looked at again is due from the day after, the longest first; what is retired is not', () => {
  const library = exampleLibrary()
  const [family] = library.families
  const [injector, cover, gasket] = family!.weakPoints
  family!.reviewBy = '2026-02-01'
  injector!.reviewBy = '2026-01-15'
  cover!.reviewBy = '2026-01-01'
  cover!.retired = true
  gasket!.reviewBy = '2026-02-02'
  const due = (day: string) =>
    dueReviews(library, parseDay(day)!).map(({ weakPoint }) => weakPoint?.component ?? 'the engine')
  expect(due('2026-02-02')).toEqual(['Fuel injector', 'the engine'])
  expect(due('2026-02-01')).toEqual(['Fuel injector'])
  expect(due('2026-01-15')).toEqual([])
})
