import { describe, expect, test } from 'vitest'
import { costUnit, IntervalWords } from '@/app/(people)/families/interval-sentences'
import { formatsFor } from '@/app/ui/formats'
import { chooseInterval, clockPerYear } from '@/lib/decisions/interval-choice'
import type { Clock } from '@/lib/records/library'

const formats = (unit: 'km' | 'mi') => formatsFor({ locale: 'en-GB', currency: 'EUR' }, unit)
const plain = (text: string) => text.replaceAll('\u00a0', ' ')

function told({
  clock = 'distance' as Clock,
  unit = 'km' as 'km' | 'mi',
  counted = true,
  unplanned = 1_500,
  shape = 3,
} = {}) {
  const scale = clock === 'time' ? 3_000 : 150_000
  const choice = chooseInterval(
    { shape, scale, pfMean: scale / 20 },
    { planned: 300, unplanned },
    { ageing: 1, parts: 40, perYear: clockPerYear(clock, 'mixed', 55) },
  )
  if (!choice.ok) throw new Error(choice.reason)
  const inUse = counted ? { vehicles: 10, parts: 40 } : null
  const words = new IntervalWords(clock, costUnit(clock, unit), inUse, formats(unit))
  return { choice, words, finding: plain(words.finding(choice)) }
}

describe('what an interval costs', () => {
  test('the cheapest, how exactly it has to be kept, running to failure, and how many fail', () => {
    expect(told().finding).toBe(
      'Least costly is to replace it every 79,000 km: €5.5 per 1,000 km. Anything from 63,000 km to 99,000 km costs at ' +
        'most 5 % more. Run to failure it would be €11. Of the 40 in your 10 vehicles driven so, 1.1 would then fail in a ' +
        'year, instead of 5.7.',
    )
  })

  test('in miles the interval is the same and the cost that of a thousand miles', () => {
    expect(told({ unit: 'mi', counted: false }).finding).toMatch(/every 49,000 mi: €8.9 per 1,000 miles/)
  })

  test('by time it is told a year', () => {
    const { finding, words } = told({ clock: 'time', counted: false })
    expect(finding).toMatch(/a year\. Anything from/)
    expect(plain(words.interval(730.5))).toBe('24 months')
  })

  test('running to failure, where that is cheapest', () => {
    const { finding, words, choice } = told({ unplanned: 310 })
    expect(finding).toMatch(
      /^Running it to failure costs least: €2.2 per 1,000 km\. Replaced sooner, it costs more/,
    )
    expect(finding).toMatch(/5.7 would then fail in a year\.$/)
    expect(words.interval(choice.best.interval)).toBe('when it fails')
  })

  test('a flat stretch without end says that running to failure is in it', () => {
    expect(told({ unplanned: 500, shape: 2.5 }).finding).toContain('on, running to failure included')
  })

  test('one interval against the cheapest', () => {
    const { choice, words } = told()
    expect(plain(words.against(choice.at(40_000), choice))).toMatch(
      /^€7.9 per 1,000 km, 42 % more than the least\. 0.\d+ would fail in a year, and 20 be replaced by plan\.$/,
    )
    expect(words.against(choice.best, choice)).toContain('as little as the least')
    expect(told({ counted: false }).words.against(choice.best, choice)).not.toContain('fail')
  })
})

test('a year on the clock follows from how far and how it is driven', () => {
  expect(clockPerYear('distance', 'short', 100)).toBeCloseTo(36_525, 6)
  expect(clockPerYear('hours', 'long', 58)).toBeCloseTo(365.25, 6)
  expect(clockPerYear('time', 'mixed', 0)).toBe(365.25)
})
