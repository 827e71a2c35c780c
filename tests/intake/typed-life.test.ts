import { expect, test } from 'vitest'
import { readTypedFacts, readTypedOwner, readTypedStatus } from '@/lib/intake/typed-life'
import { parseDay } from '@/lib/units/dates'

const TODAY = parseDay('2026-06-30')!
const SOLD_ON = parseDay('2026-03-14')!
const ground = { unit: 'V-1', family: null, today: TODAY, distance: 'km' as const }
const slipsOf = (read: { ok: true } | { ok: false; slips: { field: string }[] }) =>
  read.ok ? [] : read.slips.map(({ field }) => field)

test('what is sold says when, and under which cover; miles are distances too', () => {
  const typed = {
    status: 'sold',
    left_on: '2026-03-14',
    cover_until_on: '2027-03-14',
    cover_until_km: '120.000',
  }
  const cover = { coverUntilOn: parseDay('2027-03-14'), coverUntilKm: 120_000 }
  const facts = { status: 'sold', leftOn: SOLD_ON, soldOn: SOLD_ON, ...cover }
  expect(readTypedStatus(typed, ground)).toEqual({ ok: true, facts })
  const inMiles = readTypedStatus({ ...typed, cover_until_km: '100' }, { ...ground, distance: 'mi' })
  expect(inMiles.ok && inMiles.facts.coverUntilKm).toBeCloseTo(160.9344, 6)
})

test('what is retired or there again is under no cover, and what is there has not left', () => {
  const typed = { left_on: '2026-03-14', cover_until_on: '2027-03-14', cover_until_km: '120000' }
  const none = { soldOn: null, coverUntilOn: null, coverUntilKm: null }
  expect(readTypedStatus({ ...typed, status: 'retired' }, ground)).toEqual({
    ...{ ok: true, facts: { ...none, status: 'retired', leftOn: SOLD_ON } },
  })
  for (const status of ['active', 'stock'])
    expect(readTypedStatus({ ...typed, left_on: 'rubbish', status }, ground)).toEqual({
      ...{ ok: true, facts: { ...none, status, leftOn: null } },
    })
})

test('what cannot be is said at its field', () => {
  const sold = { status: 'sold', left_on: '2026-03-14' }
  const at = (typed: Record<string, string>) => slipsOf(readTypedStatus(typed, ground))
  expect(at({})).toEqual(['status'])
  expect(at({ status: 'lent' })).toEqual(['status'])
  expect(at({ status: 'sold' })).toEqual(['left_on'])
  expect(at({ status: 'retired', left_on: '2026-07-01' })).toEqual(['left_on'])
  expect(at({ ...sold, cover_until_on: '2026-03-13' })).toEqual(['cover_until_on'])
  expect(at({ ...sold, cover_until_on: 'next year' })).toEqual(['cover_until_on'])
  expect(at({ ...sold, cover_until_km: 'far' })).toEqual(['cover_until_km'])
})

test('a new owner is another name and contact and a change on record; blank is not known, never the earlier one', () => {
  const read = readTypedOwner(
    { which: 'other', customer: 'Ms Reed', on: '2026-03-14', odometer: '90 000' },
    ground,
  )
  expect(read).toMatchObject({
    ...{ ok: true, facts: { customer: 'Ms Reed', contact: null } },
    changes: [{ unit: 'V-1', on: SOLD_ON, kind: 'owner', odometerKm: 90_000 }],
  })
  expect(readTypedOwner({ which: 'other', customer: ' ' }, ground)).toMatchObject({
    ...{ ok: true, facts: { customer: null, contact: null }, changes: [{ on: TODAY }] },
  })
  expect(readTypedOwner({ which: 'same', customer: 'Ms Reed', contact: 'at the mill' }, ground)).toEqual({
    ...{ ok: true, facts: { customer: 'Ms Reed', contact: 'at the mill' }, changes: [] },
  })
})

test('an owner who is put right keeps what is left blank', () => {
  expect(readTypedOwner({ which: 'same', customer: '', contact: 'at the mill' }, ground)).toEqual({
    ...{ ok: true, facts: { contact: 'at the mill' }, changes: [] },
  })
})

test('what is wrong about an owner is said at its field', () => {
  const at = (typed: Record<string, string>) => slipsOf(readTypedOwner(typed, ground))
  expect(at({ customer: 'Ms Reed' })).toEqual(['which'])
  expect(at({ which: 'other', on: '2026-07-01' })).toEqual(['on'])
  expect(at({ which: 'same', customer: ' ' })).toEqual(['customer'])
  expect(at({ which: 'other', odometer: 'far' })).toEqual(['odometer'])
  expect(at({ which: 'same', customer: 'x'.repeat(201) })).toEqual(['customer'])
})

test('facts of a form are read as those of a file: a blank one is not known', () => {
  const typed = { family: 'plover-22', variant: '', plate: ' AB 1 ', value: '9500', duty: 'short' }
  expect(readTypedFacts(typed, { unit: 'V-1', families: [], today: TODAY })).toEqual({
    ok: true,
    facts: {
      ...{ family: 'plover-22', variant: null, plate: 'AB 1', vin: null, site: null },
      ...{ value: 9500, duty: 'short' },
    },
  })
  const wrong = { ...typed, value: 'much' }
  expect(slipsOf(readTypedFacts(wrong, { unit: 'V-1', families: [], today: TODAY }))).toEqual(['value'])
  expect(slipsOf(readTypedFacts({}, { unit: 'V-1', families: [], today: TODAY }))).toEqual(['family'])
})
