import { expect, test } from 'vitest'
import { statusWords } from '@/app/(people)/vehicles/[unit]/status-words'

const formats = { day: (day: number) => `day ${day}`, distance: (km: number) => `${km} km` }
const GONE = { leftOn: 90, coverUntilOn: null, coverUntilKm: null }
const words = (vehicle: object) =>
  statusWords(
    { status: 'sold', ...GONE, isScored: false, ...vehicle } as Parameters<typeof statusWords>[0],
    100,
    {
      ...formats,
    },
  )

test('a vehicle in use says nothing, one in stock that it is', () => {
  expect(words({ status: 'active', leftOn: null, isScored: true })).toBeNull()
  expect(words({ status: 'stock', leftOn: null, isScored: true })).toBe('In stock.')
})

test('what is gone says since when, and that it is not scored', () => {
  expect(words({ status: 'retired' })).toBe('Retired on day 90, so it is not scored any more.')
  expect(words({ status: 'retired', leftOn: null })).toBe('Retired, so it is not scored any more.')
  expect(words({})).toBe('Sold on day 90 without cover, so it is not scored any more.')
})

test('what is sold under cover says until when, and that it is scored', () => {
  expect(words({ coverUntilOn: 200, coverUntilKm: 9, isScored: true })).toBe(
    'Sold on day 90, under cover until day 200 and up to 9 km, whichever comes first: scored like stock until then.',
  )
  expect(words({ coverUntilOn: 200, isScored: true })).toBe(
    'Sold on day 90, under cover until day 200: scored like stock until then.',
  )
})

test('cover that is over says so; where it may be over by distance, what may be the reason', () => {
  expect(words({ coverUntilOn: 99 })).toBe(
    'Sold on day 90; its cover ended on day 99, so it is not scored any more.',
  )
  expect(words({ coverUntilOn: 100, isScored: true })).toContain('under cover until day 100')
  expect(words({ coverUntilKm: 9 })).toContain('its odometer is past the cover')
})
