import fc from 'fast-check'
import { expect, test } from 'vitest'
import { ON_EACH } from '@/lib/intake/form-ground'
import { readTypedEntry } from '@/lib/intake/typed-entry'
import { ENTRY_KINDS, type EntryKind } from '@/lib/intake/typed-form'
import { librarySchema } from '@/lib/records/library-schema'
import { parseDay } from '@/lib/units/dates'

const TODAY = parseDay('2026-06-30')!

const weakPoint = { onset: { p10: 90_000, p50: 180_000 }, warning: 8000, confidence: 'experience' }
const [FAMILY] = librarySchema.parse({
  format: 'gudgeon-library/1',
  name: 'Example',
  families: [
    {
      key: 'plover-22',
      cylinders: 4,
      weakPoints: [
        {
          ...weakPoint,
          key: 'injector',
          component: 'Injector',
          positions: 4,
          revisions: [{ key: 'mk2', lifeFactor: 1.5 }],
        },
        { ...weakPoint, key: 'pump', component: 'Pump' },
      ],
      signs: [
        { key: 'misfire', kind: 'code', codes: ['P030#'], causes: [{ weakPoint: 'injector', detect: 0.4 }] },
        { key: 'wet', kind: 'visual', causes: [{ weakPoint: 'pump', detect: 0.6 }] },
        { key: 'soot', kind: 'visual', positions: 4, causes: [{ weakPoint: 'injector', detect: 0.6 }] },
        { key: 'rough', kind: 'road', causes: [{ weakPoint: 'injector', detect: 0.2 }] },
      ],
    },
  ],
}).families

const enter = (kind: EntryKind, fields: Record<string, string>, distance: 'km' | 'mi' = 'km') =>
  readTypedEntry(kind, fields, { unit: 'V-1', family: FAMILY!, today: TODAY, distance })

function recordsOf(kind: EntryKind, fields: Record<string, string>) {
  const entry = enter(kind, fields)
  if (!entry.ok) throw new Error(JSON.stringify(entry.slips))
  return entry.records
}

const fieldsAtFault = (kind: EntryKind, fields: Record<string, string>) => {
  const entry = enter(kind, fields)
  return entry.ok ? [] : entry.slips.map(({ field }) => field)
}

test('a reading is today’s unless it says another day, and in the unit that it says', () => {
  expect(recordsOf('reading', { odometer: '84.210' }).readings).toMatchObject([
    { unit: 'V-1', readOn: TODAY, odometerKm: 84_210 },
  ])
  expect(recordsOf('reading', { odometer: '52 300 mi', on: 'yesterday' }).readings[0]?.readOn).toBe(TODAY - 1)
  const entry = enter('reading', { odometer: '52,300', on: '2026-06-13' }, 'mi')
  expect(entry).toMatchObject({ ok: true, day: TODAY - 17, odometer: { value: 52_300, unit: 'mi' } })
  expect(fieldsAtFault('reading', {})).toEqual(['odometer'])
  expect(fieldsAtFault('reading', { odometer: 'about 84', on: '31.6.2026' })).toEqual(['odometer', 'on'])
  expect(fieldsAtFault('reading', { odometer: '84210', on: '2026-07-01' })).toEqual(['on'])
})

test('codes are records of their own; a full scan is a check that saw their signs and no others', () => {
  const { codes, checks } = recordsOf('codes', {
    codes: 'p0303 P0420',
    all: 'yes',
    cleared: 'yes',
    since_cleared: '',
  })
  expect(codes).toMatchObject([
    { code: 'P0303', state: 'stored', clearedOn: TODAY },
    { code: 'P0420', clearedOn: TODAY },
  ])
  expect(checks).toMatchObject([{ kind: 'scan', seen: [{ sign: 'misfire', position: 3 }], lookedFor: null }])
  expect(recordsOf('codes', { codes: 'P0303' }).checks).toEqual([])
})

test('“no codes” is a scan with nothing seen, and does not go with codes', () => {
  expect(recordsOf('codes', { none: 'yes', since_cleared: '300' })).toMatchObject({
    codes: [],
    checks: [{ kind: 'scan', seen: [], lookedFor: null, kmSinceCleared: 300 }],
  })
  expect(fieldsAtFault('codes', { none: 'yes', codes: 'P0303' })).toEqual(['none'])
  expect(fieldsAtFault('codes', {})).toEqual(['codes'])
  expect(fieldsAtFault('codes', { codes: 'P0303 P99' })).toEqual(['codes'])
})

test('a look says what was seen and what was not, by kind; what nobody looked at is in neither', () => {
  const fields = {
    'sign:soot': 'seen',
    'at:soot:2': 'yes',
    'at:soot:4': 'yes',
    'sign:wet': 'not-seen',
    'sign:rough': 'not-seen',
  }
  expect(recordsOf('look', fields).checks).toMatchObject([
    {
      kind: 'visual',
      seen: [
        { sign: 'soot', position: 2 },
        { sign: 'soot', position: 4 },
      ],
      lookedFor: [
        { sign: 'wet', position: null },
        { sign: 'soot', position: null },
      ],
    },
    { kind: 'road', seen: [], lookedFor: [{ sign: 'rough', position: null }] },
  ])
  expect(fieldsAtFault('look', { 'sign:wet': '' })).toEqual(['look'])
})

test('what a driver says is a report of that alone, with their words', () => {
  const [report] = recordsOf('report', {
    'sign:lamp-on': 'yes',
    'sign:rough': 'yes',
    said: 'pulls badly',
  }).checks
  expect(report).toMatchObject({ kind: 'report', lookedFor: null, notes: { said: 'pulls badly' } })
  expect(report?.seen.map(({ sign }) => sign)).toEqual(['rough', 'lamp-on'])
})

test('one of four failed: the others are worked on together with it, and not examined', () => {
  const four = Object.fromEntries([1, 2, 3, 4].map((n) => [`position:${n}`, 'yes']))
  const work = {
    ...four,
    weak_point: 'injector',
    action: 'renew',
    found: 'failed',
    because: 'failure',
    parts_cost: '720,50',
  }
  expect(recordsOf('repair', { ...work, which: '3', revision: 'mk2' }).repairs).toMatchObject([
    { positions: [3], found: 'failed', because: 'failure', partsCost: 720.5, revision: 'mk2' },
    { positions: [1, 2, 4], found: null, because: 'together', partsCost: null, revision: 'mk2' },
  ])
  expect(recordsOf('repair', { ...work, which: ON_EACH }).repairs).toMatchObject([
    { positions: [1, 2, 3, 4], found: 'failed' },
  ])
  expect(fieldsAtFault('repair', work)).toEqual(['which'])
  expect(fieldsAtFault('repair', { ...work, 'position:3': '', which: '3' })).toEqual(['which'])
  expect(fieldsAtFault('repair', { weak_point: 'injector', action: 'renew' })).toEqual(['position'])
  expect(fieldsAtFault('repair', { weak_point: 'pump', action: 'swap' })).toEqual(['action'])
  expect(recordsOf('repair', { weak_point: 'pump', action: 'renew' }).repairs[0]?.positions).toEqual([1])
  expect(recordsOf('repair', { weak_point: 'other', note: 'oil' }).repairs[0]?.action).toBe('inspect')
})

test('a change keeps what the new engine or the new instrument began with', () => {
  expect(
    recordsOf('change', { kind: 'engine-used', engine_km: '60.000', odometer: '90 000' }).changes,
  ).toMatchObject([{ kind: 'engine-used', engineKm: 60_000, odometerKm: 90_000, on: TODAY }])
  expect(fieldsAtFault('change', { kind: 'wheels' })).toEqual(['kind'])
  expect(fieldsAtFault('change', {})).toEqual(['kind'])
  expect(fieldsAtFault('change', { kind: 'engine-new', engine_km: '60000' })).toEqual(['engine_km'])
  expect(fieldsAtFault('change', { kind: 'gap-from', offset_km: '60000' })).toEqual(['offset_km'])
})

test('whatever is typed into any form either goes in or names a field to mend', () => {
  const names = [
    'odometer',
    'on',
    'codes',
    'none',
    'weak_point',
    'action',
    'found',
    'which',
    'position:9',
    'position:x',
    'kind',
    'sign:wet',
    'at:soot:1',
    'parts_cost',
    'state',
    'lamp',
  ]
  const values = fc.oneof(
    fc.constantFrom('', 'yes', 'seen', 'injector', 'renew', '84.210', '2026-02-30', 'P0301', "'; drop"),
    fc.string(),
  )
  fc.assert(
    fc.property(
      fc.constantFrom(...ENTRY_KINDS),
      fc.dictionary(fc.constantFrom(...names), values),
      (kind, fields) => {
        const entry = enter(kind, fields)
        if (entry.ok) expect(Object.values(entry.records).flat().length).toBeGreaterThan(0)
        else for (const { field, message } of entry.slips) expect(field !== '' && message !== '').toBe(true)
      },
    ),
  )
})
