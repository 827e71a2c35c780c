import { describe, expect, it, test } from 'vitest'
import { atAddress, atPlaceIn } from '@/app/(people)/at/at-address'
import { scannedAs, vehiclesLike } from '@/app/(people)/at/find-vehicle'
import { newEntry } from '@/app/(people)/at/new-entry'
import { sentEntrySchema } from '@/app/(people)/at/sent-entry'
import { odometerToday, stopSignsIn, titleOf } from '@/app/(people)/at/what-was-entered'
import type { Family } from '@/lib/records/library'
import { librarySchema } from '@/lib/records/library-schema'
import { EXAMPLE_LIBRARY } from '../records/example-library'

const VEHICLES = [
  { unit: 'V-004', plate: 'TLB-0004' },
  { unit: 'V-040', plate: null },
  { unit: '0004', plate: 'ÄÖ 12-345' },
]

test('an address leads where it came from, whatever the number holds', () => {
  for (const unit of ['V-004', 'A/7 %', 'ÄÖ 12', '?do=look']) {
    const url = new URL(atAddress(unit, { doing: 'repair', weakPoint: 'egr' }), 'https://fleet.example')
    expect(atPlaceIn(url.pathname, url.searchParams)).toEqual({ unit, doing: 'repair', weakPoint: 'egr' })
  }
  expect(atPlaceIn('/at', new URLSearchParams()).unit).toBeNull()
})

describe('a vehicle is found', () => {
  const found = (typed: string) => vehiclesLike(VEHICLES, typed, 8).map(({ unit }) => unit)

  it('by what its number or plate is, begins with or holds, whatever stands between the figures', () => {
    expect(found('v 004')).toEqual(['V-004'])
    expect(found('0004')).toEqual(['0004', 'V-004'])
    expect(found('v-0')).toEqual(['V-004', 'V-040'])
    expect(found('äö12')).toEqual(['0004'])
    expect(found(' - ')).toEqual([])
  })

  it('by its label: an address of ours, whichever host it names, or its number alone', () => {
    expect(scannedAs('https://old.example/at/V-004', VEHICLES)).toEqual({ unit: 'V-004' })
    expect(scannedAs('https://old.example/q/aB3_x-9', VEHICLES)).toEqual({ address: '/q/aB3_x-9' })
    expect(scannedAs('tlb 0004', VEHICLES)).toEqual({ unit: 'V-004' })
  })

  it('by no label of others', () => {
    for (const text of [
      'https://shop.example/offer',
      'https://old.example/q/a/b',
      'javascript:alert(1)',
      'V-9',
      '',
    ])
      expect(scannedAs(text, VEHICLES)).toBeNull()
  })
})

describe('what was entered', () => {
  const library = librarySchema.parse(EXAMPLE_LIBRARY)
  const [first] = library.families
  const family: Family = { ...first!, signs: first!.signs.map((sign, i) => ({ ...sign, stop: i === 0 })) }
  const [stop, other] = family.signs

  it('says at once with which signs nobody must drive on', () => {
    const marked = (said: string) => ({ [`sign:${stop!.key}`]: said, [`sign:${other?.key}`]: 'seen' })
    const keys = (fields: Record<string, string>) => stopSignsIn(fields, family).map(({ key }) => key)
    expect(keys(marked('seen'))).toEqual([stop!.key])
    expect(keys(marked('yes'))).toEqual([stop!.key])
    expect(keys(marked('not-seen'))).toEqual([])
    expect(keys(marked(''))).toEqual([])
    const code = family.signs.find(({ codes }) => codes.length > 0)
    const withCode = { ...family, signs: [{ ...code!, stop: true }] }
    const [named] = code!.codes
    expect(stopSignsIn({ codes: named!.replace('#', '2') }, withCode)).toHaveLength(1)
    expect(stopSignsIn(marked('seen'), null)).toEqual([])
  })

  it('is told in a few words', () => {
    expect(titleOf('reading', { odometer: '84 210', unit: 'km' }, family)).toBe('Odometer: 84 210 km')
    expect(titleOf('codes', { codes: 'found p0302, P0171' }, family)).toBe('Codes: P0302, P0171')
    expect(titleOf('look', { 'sign:a': 'seen', 'sign:b': 'not-seen', 'sign:c': '' }, family)).toBe(
      'Walk-round: 1 seen, 1 not seen',
    )
    expect(titleOf('photograph', { note: '' }, null)).toBe('Photograph')
  })

  it('is made so that the server can read it, under an id of its own', () => {
    const person = { id: crypto.randomUUID(), name: 'Ann' }
    const known = { person, organisation: { id: crypto.randomUUID(), name: 'Mill' } } as Parameters<
      typeof newEntry
    >[0]
    const made = { unit: 'V-1', kind: 'codes', fields: { codes: 'P0302' }, sure: null, family } as const
    const [one, two] = [0, 1].map(() => newEntry(known, { ...made, fields: { ...made.fields } }, new Date()))
    expect(sentEntrySchema.safeParse(one).success).toBe(true)
    expect(one?.id).not.toBe(two?.id)
  })

  it('gives the odometer of a visit to the next form of the same day, and of no other vehicle or day', () => {
    const at = (madeAt: Date, unit: string, fields: Record<string, string>) => ({
      madeAt: madeAt.toISOString(),
      unit,
      fields,
    })
    // The organisation is 14 hours ahead of Greenwich: it has the first of March from ten in the morning.
    const timeZone = 'Pacific/Kiritimati'
    const [yesterday, now] = [new Date('2026-02-28T09:59:00Z'), new Date('2026-02-28T23:30:00Z')]
    const today = new Date('2026-02-28T10:01:00Z')
    const entries = [
      at(today, 'V-1', { odometer: '84 210', unit: 'km', on: '2026-03-01' }),
      at(yesterday, 'V-1', { odometer: '1', unit: 'km' }),
      at(now, 'V-1', { odometer: '80 000', unit: 'km', on: '2026-02-28' }),
      at(now, 'V-1', { codes: 'P0302' }),
      at(now, 'V-2', { odometer: '7' }),
    ]
    const told = (unit: string) => odometerToday(entries, unit, { timeZone, now })
    expect(told('V-1')).toEqual({ odometer: '84 210', unit: 'km' })
    expect(told('V-3')).toBeNull()
  })
})
