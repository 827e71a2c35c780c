import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  date,
  numberUpTo,
  oneOf,
  positionList,
  type Reader,
  Refusal,
  required,
  signList,
} from '@/lib/records/cells'
import { formatDay, parseDay } from '@/lib/units/dates'

const reasonOf = (read: Reader<unknown>, found: string): string => {
  const value = read(found)
  return value instanceof Refusal ? value.reason : `taken: ${JSON.stringify(value)}`
}

describe('a date cell', () => {
  test('reads every day from 1900 to 2100 back as it was written', () => {
    const [first, last] = [parseDay('1900-01-01') ?? 0, parseDay('2100-12-31') ?? 0]
    fc.assert(fc.property(fc.integer({ min: first, max: last }), (day) => date(formatDay(day)) === day))
  })

  test.each([
    '30.06.2026',
    '2026-02-30',
    '2026-6-1',
    '20260630',
    '2026-06-30T00:00:00Z',
    'soon',
    '1899-12-31',
  ])('refuses %s', (found) => expect(reasonOf(date, found)).toContain(found))
})

describe('a number cell', () => {
  const read = numberUpTo(10_000_000, 'km')

  test('reads every number within its limits back as JavaScript writes it', () => {
    const anyNumber = fc.double({ min: 0, max: 1e7, noNaN: true })
    fc.assert(fc.property(anyNumber, (value) => Object.is(read(String(value)), value + 0)))
  })

  test('takes powers of ten, as R writes 100,000', () => expect(read('1e+05')).toBe(100_000))
  test('takes minus zero as zero', () => expect(read('-0.0')).toBe(0))

  test.each([
    '84,210',
    '84.210,5',
    '84 210',
    'NaN',
    'Infinity',
    '0x10',
    '+5',
    '1_000',
    '.',
    'e5',
    'twelve',
    '٣',
  ])('refuses %s as no number', (found) => expect(reasonOf(read, found)).toMatch(/is not a number/))
  test('says that a negative number is negative', () => expect(reasonOf(read, '-5')).toBe('-5 is negative'))
  test('says what an absurd number exceeds', () =>
    expect(reasonOf(read, '1e300')).toBe('1e300 cannot be right: the most taken is 10,000,000 km'))
})

test('an unknown word is answered with the words that are known and the nearest', () => {
  expect(reasonOf(oneOf(['short', 'mixed', 'long']), 'mixde')).toBe(
    '"mixde" is not one of: short, mixed, long; did you mean "mixed"?',
  )
})

test('positions come sorted and once each, or all', () => {
  expect(positionList('3 1  3')).toEqual([1, 3])
  expect(positionList('all')).toBe('all')
  expect(reasonOf(positionList, '1 0')).toContain('"0" is not a position')
  expect(reasonOf(positionList, '1,3')).toContain('"1,3" is not a position')
})

test('signs carry their position, and are listed once', () => {
  expect(signList('misfire@3 oil-seep misfire@3')).toEqual([
    { sign: 'misfire', position: 3 },
    { sign: 'oil-seep', position: null },
  ])
  expect(reasonOf(signList, 'misfire@')).toContain('"misfire@" is not a sign')
  expect(reasonOf(signList, '@3')).toContain('"@3" is not a sign')
})

test('a required cell refuses blanks and spaces', () => {
  expect(required(date).safeParse('  ').error?.issues[0]?.message).toBe('is blank, and must not be')
  expect(required(date).safeParse(undefined).success).toBe(false)
})
