import { describe, expect, test } from 'vitest'
import { fieldWords, thingWords } from '@/app/(people)/families/difference-words'
import { formatsFor } from '@/app/ui/formats'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const said = (change: Parameters<typeof fieldWords>[0], clock: Parameters<typeof fieldWords>[1] = null) =>
  fieldWords(change, clock, formats).replaceAll('\u00a0', ' ')

describe('a difference in words', () => {
  test('an age is told by its clock', () => {
    const change = { field: 'onset.p50' as const, before: 150_000, after: 180_000 }
    expect(said(change, 'distance')).toBe('half have begun to go by: 180,000 km, was 150,000 km')
    expect(said({ ...change, before: 1_461, after: 1_826 }, 'time')).toMatch(/5 years, was 4 years/)
  })

  test.each([
    [{ field: 'confidence', before: 'hunch', after: 'documented' }, 'how sure: documented, was a hunch'],
    [{ field: 'harm', before: false, after: true }, 'can harm people: yes, was no'],
    [{ field: 'cost.parts', before: 0, after: 180 }, 'parts: €180, was €0'],
    [{ field: 'detect', before: 0.1, after: 0.6 }, 'seen when it is there: 6 in 10, was 1 in 10'],
    [{ field: 'lifeFactor', before: 1, after: 1.5 }, 'lasts, against the original: 1.5 times, was 1 times'],
    [{ field: 'grounds', before: null, after: 'own workshop' }, 'grounds: “own workshop”, was not stated'],
    [{ field: 'cautions', before: [], after: ['Hot.', 'Heavy.'] }, 'cautions: Hot.; Heavy., was none'],
    [
      { field: 'renewEvery', before: null, after: 60_000 },
      'replaced by schedule every: 60,000 km, was not stated',
    ],
  ] as const)('%o', (change, words) => {
    expect(said(change, 'distance')).toBe(words)
  })

  test.each([
    [{ field: 'detect', before: 0.95, after: 0.96 }, 'seen when it is there: 96%, was 95%'],
    [{ field: 'success', before: 0.26, after: 0.255 }, 'repairs that hold: 25.5%, was 26%'],
    [{ field: 'leak', before: 0.0005, after: 0 }, 'shows without cause: 0%, was 0.05%'],
    [
      { field: 'lifeFactor', before: 1.51, after: 1.52 },
      'lasts, against the original: 1.52 times, was 1.51 times',
    ],
    [{ field: 'cost.parts', before: 180.2, after: 180.4 }, 'parts: €180.40, was €180.20'],
    [{ field: 'cost.hours', before: 12.1, after: 12.2 }, 'work: 12.2 hours, was 12.1 hours'],
    [
      { field: 'cost.daysOff', before: 10.1, after: 10.2 },
      'off the road after a breakdown: 10.2 days, was 10.1 days',
    ],
    [{ field: 'warning', before: 800.2, after: 800 }, 'from first sign to breakdown: 800 km, was 800.2 km'],
  ] as const)('what would be rounded alike is told exactly: %o', (change, words) => {
    expect(said(change, 'distance')).toBe(words)
  })

  test('what would be rounded alike is told exactly in hours, days and miles', () => {
    expect(said({ field: 'warning', before: 800.2, after: 800 }, 'hours')).toMatch(
      /800 hours, was 800.2 hours/,
    )
    expect(said({ field: 'warning', before: 1_826, after: 1_825 }, 'time')).toMatch(
      /1,825 days, was 1,826 days/,
    )
    const change = { field: 'warning', before: 1_000, after: 1_000.1 } as const
    const inMiles = formatsFor({ locale: 'en-GB', currency: null }, 'mi')
    const [now, was] = fieldWords(change, 'distance', inMiles).split(', was ')
    expect(now).toMatch(/621\.433\d* mi$/)
    expect(was).toMatch(/^621\.371\d* mi$/)
  })

  test('a thing by its kind and name', () => {
    expect(thingWords({ kind: 'sign', name: 'Plover 2.2: Misfire', clock: null, change: 'gone' })).toBe(
      'Sign Plover 2.2: Misfire',
    )
  })
})
