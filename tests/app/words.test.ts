import fc from 'fast-check'
import { expect, test } from 'vitest'
import { onScale, SCALE_WIDTH } from '@/app/ui/chance-scale'
import { chanceInBand, frequency } from '@/app/ui/chance-words'
import { formatsFor } from '@/app/ui/formats'
import { RECORD_FIELDS } from '@/app/ui/record-words'
import { betweenAmounts, countWord, horizonWords, placeWords, slotWords } from '@/app/ui/words'
import { TABLES } from '@/lib/intake/tables'
import { parseDay } from '@/lib/units/dates'

const inFigures = (count: number) => count.toLocaleString('en')

test.each([
  [1, 'as good as certain'],
  [0.97, '19 in 20'],
  [0.82, '8 in 10'],
  [0.5, '1 in 2'],
  [0.2, '1 in 5'],
  [0.021, '1 in 50'],
  [0.00101, '1 in 1,000'],
  [0.0001, 'under\u00a01 in\u00a01,000'],
  [0, 'under\u00a01 in\u00a01,000'],
])('a chance of %s is said as %s', (chance, words) => {
  expect(frequency(chance, inFigures)).toBe(words)
})

test('the words of a chance are never further from it than a third', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.001, max: 0.99, noNaN: true }), (chance) => {
      const [, part, whole] = /^(\d+) in ([\d,]+)$/.exec(frequency(chance, inFigures)) ?? []
      const said = Number(part) / Number(whole?.replaceAll(',', ''))
      expect(Math.abs(said / chance - 1)).toBeLessThan(1 / 3)
    }),
  )
})

test('the band stands beside the chance, unless it says no more than the chance', () => {
  expect(chanceInBand({ pFail: 0.2, pLow: 0.125, pHigh: 0.34 }, inFigures)).toBe(
    'about 1 in 5 (between 1 in 8 and 1 in 3)',
  )
  expect(chanceInBand({ pFail: 1, pLow: 1, pHigh: 1 }, inFigures)).toBe('as good as certain')
})

test('the scale keeps the order of chances, from end to end', () => {
  expect([onScale(0), onScale(1), onScale(2)]).toEqual([0, SCALE_WIDTH, SCALE_WIDTH])
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      (a, b) => {
        expect(onScale(Math.min(a, b))).toBeLessThanOrEqual(onScale(Math.max(a, b)))
      },
    ),
  )
})

test('numbers are written as the organisation writes them', () => {
  const terms = {
    name: '',
    locale: 'en-GB',
    timeZone: 'UTC',
    distance: 'km',
    currency: 'GBP',
    slotDays: 14,
  } as const
  const [km, mi] = [formatsFor(terms, 'km'), formatsFor(terms, 'mi')]
  expect([km.distance(16_093.44), mi.distance(16_093.44)]).toEqual(['16,093 km', '10,000 mi'])
  expect([km.money(140.4), km.roughMoney(4312)]).toEqual(['£140', '£4,300'])
  expect(km.day(parseDay('2026-06-30')!)).toBe('30 Jun 2026')
  expect(formatsFor({ ...terms, currency: null }, 'km').money(140.4)).toBe('140')
  expect(formatsFor({ ...terms, locale: 'de-DE', currency: 'EUR' }, 'km').distance(84_210)).toBe('84.210 km')
})

test('counts, slots, horizons and places in words', () => {
  expect([0, 2, 12, 13].map((count) => countWord(count, String))).toEqual(['no', 'two', 'twelve', '13'])
  expect([1, 7, 10, 14, 28].map(slotWords)).toEqual(['a day', 'a week', '10 days', 'two weeks', 'four weeks'])
  expect([30, 90, 180, 365].map(horizonWords)).toEqual(['30 days', '90 days', '6 months', '1 year'])
  expect([placeWords('cylinder', 3), placeWords('bank', 2), placeWords(null, 1)]).toEqual([
    'cylinder 3',
    'bank 2',
    '',
  ])
})

test('a saving stands with its range, unless the words of both ends are the same', () => {
  const { roughMoney } = formatsFor({ locale: 'en', currency: 'EUR' }, 'km')
  expect(betweenAmounts({ low: 3120, high: 5780 }, roughMoney)).toBe(' (between €3,100 and €5,800)')
  expect(betweenAmounts({ low: -40, high: 230 }, roughMoney)).toBe(' (from nothing to €230)')
  expect(betweenAmounts({ low: 1681, high: 1684 }, roughMoney)).toBe('')
})

test('every field of a record has words of its own, and none is left over', () => {
  const { vehicles: _, ...records } = TABLES
  const columns = new Set(Object.values(records).flatMap(({ shape }) => Object.keys(shape)))
  expect(Object.keys(RECORD_FIELDS).sort()).toEqual([...columns].sort())
  for (const words of Object.values(RECORD_FIELDS)) expect(words).toMatch(/^[A-Z][^_]*$/)
})
