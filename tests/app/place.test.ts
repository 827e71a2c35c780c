/** The address of a vehicle's page says how the vehicle is there: hours, parts on the shelf. */
import { expect, test } from 'vitest'
import { addressOfPlace, placeIn, visitingAt } from '@/app/(people)/vehicles/[unit]/place'

test('how it is here now comes back from the address that was made of it', () => {
  const coming = { here: 'yes', hours: '2.5', shelf: { 'INJ 22&a=b': '3', 'GSK.7': '0' } } as const
  const address = addressOfPlace('/vehicles/V-1?horizon=180', coming, 'visit')
  const { searchParams, hash } = new URL(address, 'http://page.invalid')
  expect([searchParams.get('horizon'), hash]).toEqual(['180', '#visit'])
  const place = placeIn(Object.fromEntries(searchParams))
  expect(place).toMatchObject(coming)
  expect(visitingAt(place)).toEqual({
    ...{ hereNow: true, hoursFree: 2.5 },
    onShelf: new Map([
      ['INJ 22&a=b', 3],
      ['GSK.7', 0],
    ]),
  })
})

test('a count that is no number, or less than none, was not said', () => {
  const typed = { here: 'yes', 'shelf.A': 'some', 'shelf.B': '-2', 'shelf.C': '', 'shelf.D': '1.9' }
  expect(visitingAt(placeIn(typed)).onShelf).toEqual(new Map([['D', 1]]))
  expect(visitingAt(placeIn({ ...typed, here: 'no' }))).toEqual({ hereNow: false, hoursFree: null })
})
