import fc from 'fast-check'
import { expect, test } from 'vitest'
import { doubtOf } from '@/lib/records/odometer-doubts'
import { readTypedCodes } from '@/lib/records/typed-codes'
import { readTypedDistance } from '@/lib/records/typed-distance'
import { readTypedNumber } from '@/lib/records/typed-number'

test.each([
  ['84210', 84_210],
  ['84 210', 84_210],
  ['84.210', 84_210],
  ['84,210', 84_210],
  ["84'210", 84_210],
  ['84\u202f210', 84_210],
  [' 1.084.210 ', 1_084_210],
  ['84.210,5', 84_210.5],
  ['84,210.5', 84_210.5],
  ['84210,5', 84_210.5],
  ['1,5', 1.5],
  ['0.25', 0.25],
  ['0', 0],
])('%s is read as %d', (text, number) => {
  expect(readTypedNumber(text)).toBe(number)
})

test.each(['', '-5', '84k', '84.21.0', '8 4210', '84,21,0', '84.210.5', '12e3', '1..2', '.', 'NaN', '٣'])(
  '%s is no number',
  (text) => {
    expect(readTypedNumber(text)).toBeNull()
  },
)

test('a whole number is read back however its thousands are marked', () => {
  fc.assert(
    fc.property(
      fc.nat(10_000_000),
      fc.constantFrom('en-GB', 'de-DE', 'fr-FR', 'de-CH', 'sv-SE', 'en-IN-u-nu-latn'),
      (number, locale) => {
        const written = new Intl.NumberFormat(locale).format(number)
        // Lakhs are grouped in twos, which is not read at all rather than wrongly.
        expect([number, null]).toContain(readTypedNumber(written))
        if (!locale.startsWith('en-IN')) expect(readTypedNumber(written)).toBe(number)
      },
    ),
  )
})

test('no text whatever is read as something that is not a number from nought up', () => {
  const typed = fc.string({ unit: fc.constantFrom(..."0123456789 .,'-+eEkm’"), maxLength: 14 })
  fc.assert(
    fc.property(fc.oneof(typed, fc.string()), (text) => {
      const number = readTypedNumber(text)
      if (number !== null) expect(Number.isFinite(number) && number >= 0).toBe(true)
      const distance = readTypedDistance(text, 'km')
      if (distance !== null) expect(distance.km).toBeGreaterThanOrEqual(0)
    }),
  )
})

test('an odometer says its unit, or is in the organisation’s', () => {
  expect(readTypedDistance('84.210 km', 'mi')).toEqual({ value: 84_210, unit: 'km', km: 84_210 })
  expect(readTypedDistance('52 300mi', 'km')).toEqual({ value: 52_300, unit: 'mi', km: 52_300 * 1.609344 })
  expect(readTypedDistance('52,300 Miles', 'km')?.unit).toBe('mi')
  expect(readTypedDistance('100', 'mi')?.km).toBeCloseTo(160.9344, 9)
  for (const text of ['10000001', 'km', '84210 yards', 'about 84000'])
    expect(readTypedDistance(text, 'km')).toBeNull()
})

test('codes are found as they are typed and as reports print them', () => {
  expect(readTypedCodes('p0302, P 0304;PO171')).toEqual({ codes: ['P0302', 'P0304', 'P0171'], unread: [] })
  expect(readTypedCodes('P0302-00 Cylinder 2 misfire detected\nP0302 again\nU0100').codes).toEqual([
    'P0302',
    'U0100',
  ])
  expect(readTypedCodes('SPN 94 FMI 18, 651:05 and 102/4').codes).toEqual(['94:18', '651:5', '102:4'])
  expect(readTypedCodes('P0302 P03X9 P9999 94:99')).toEqual({
    codes: ['P0302'],
    unread: ['P03X9', 'P9999', '94:99'],
  })
  expect(readTypedCodes('nothing at all').codes).toEqual([])
})

test('every code of the form is found between any words', () => {
  const hexadecimal = fc.constantFrom(...'0123456789ABCDEF')
  const code = fc
    .tuple(fc.constantFrom(...'PCBU'), fc.constantFrom(...'0123'), hexadecimal, hexadecimal, hexadecimal)
    .map((parts) => parts.join(''))
  fc.assert(
    fc.property(
      fc.uniqueArray(code, { maxLength: 6 }),
      fc.constantFrom(' ', ', ', '\n', '; ', ' - seen; '),
      (codes, by) => {
        expect(readTypedCodes(codes.join(by).toLowerCase())).toEqual({ codes, unread: [] })
      },
    ),
  )
})

test('a reading is asked about where it does not follow from its neighbours', () => {
  const trusted = { day: Float64Array.of(100, 200), km: Float64Array.of(10_000, 20_000) }
  const ask = (day: number, km: number) => doubtOf({ day, km }, { trusted })
  expect(ask(250, 24_000)).toBeNull()
  expect(ask(250, 19_999)).toEqual({ kind: 'lower', day: 200, km: 20_000 })
  expect(ask(150, 20_001)).toEqual({ kind: 'higher-than-later', day: 200, km: 20_000 })
  expect(ask(210, 29_000)).toEqual({ kind: 'fast', day: 200, km: 20_000, kmPerDay: 900 })
  expect(ask(200, 20_000)).toBeNull()
  expect(ask(50, 3)).toBeNull()
  expect(
    doubtOf({ day: 1, km: 5 }, { trusted: { day: new Float64Array(), km: new Float64Array() } }),
  ).toBeNull()
})

test('a reading that is many times what the vehicle usually runs is asked about, where that is known', () => {
  const trusted = { day: Float64Array.of(100), km: Float64Array.of(84_210) }
  const ask = (km: number, usual: number | null) => doubtOf({ day: 300, km }, { trusted }, usual)
  expect(ask(184_210, 30)).toMatchObject({ kind: 'fast', kmPerDay: 500 })
  expect(ask(184_210, null)).toBeNull()
  expect(ask(184_210, 300)).toBeNull()
  // Hardly used, and now a little more.
  expect(ask(85_500, 0.5)).toBeNull()
})
