import fs from 'node:fs'
import { expect, test } from 'vitest'
import { auditAsked, auditParameters } from '@/app/(people)/audit/audit-asked'
import { actorWords, didWords, differencesOf, THINGS } from '@/app/(people)/audit/audit-words'
import { formatsFor } from '@/app/ui/formats'
import type { AuditLine } from '@/lib/store/read/audit-lines'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const line = (more: Partial<AuditLine>): AuditLine => ({
  ...{ place: 1, at: new Date(0), actor: 'person:1', what: 'vehicles', act: 'changed', subject: null },
  ...{ unit: 'L-12', rowCount: 1, before: null, after: null, erased: false },
  ...more,
})
const reading = { what: 'readings', after: { odometer_km: 84210, read_on: '2026-06-30', source: 'tracker' } }

test.each<[string, Partial<AuditLine>]>([
  ['changed the plate of L-12: AB 12 → ZZ 77', { before: { plate: 'AB 12' }, after: { plate: 'ZZ 77' } }],
  ['changed the plate of L-12: nothing → ZZ 77', { before: { plate: null }, after: { plate: 'ZZ 77' } }],
  [
    'changed L-12: plate AB 12 → ZZ 77; customer Ann → nothing',
    { before: { plate: 'AB 12', customer: 'Ann' }, after: { plate: 'ZZ 77', customer: null } },
  ],
  ['added a reading of L-12 (84,210, 30 Jun 2026)', { ...reading, act: 'added' }],
  [
    'corrected the odometer (km) of a reading of L-12: 1 → 2',
    { ...reading, act: 'corrected', before: { odometer_km: 1 }, after: { odometer_km: 2 } },
  ],
  [
    'took back a reading of L-12',
    { ...reading, before: { withdrawn_at: null }, after: { withdrawn_at: '2026-06-30T10:00:00+00:00' } },
  ],
  [
    'brought back a reading of L-12',
    { ...reading, before: { withdrawn_at: '2026-06-30T10:00:00+00:00' }, after: { withdrawn_at: null } },
  ],
  ['added 5,000 readings', { ...reading, act: 'added', rowCount: 5000, unit: null, after: null }],
  [
    'revoked a token',
    {
      ...{ what: 'tokens', unit: null, before: { revoked_at: null } },
      after: { revoked_at: '2026-06-30T10:00:00+00:00' },
    },
  ],
  [
    'changed the currency of the terms: EUR → SEK',
    {
      ...{ what: 'organisations', unit: null, before: { settings: { currency: 'EUR', locale: 'en' } } },
      after: { settings: { currency: 'SEK', locale: 'en' } },
    },
  ],
  [
    'changed the secret of the address that is told of stops: (not told) → (not told, another)',
    {
      ...{ what: 'webhooks', unit: null, before: { secret: '(not told)' } },
      after: { secret: '(not told, another)' },
    },
  ],
  ['added a row of things_to_come', { what: 'things_to_come', unit: null, act: 'added', after: {} }],
])('%s', (words, told) => {
  expect(didWords(line(told), formats)).toBe(words)
})

test.each([
  ['person:1', 'Ann'],
  ['person:2', 'Somebody who is gone'],
  ['token:3', 'tracker, a program'],
  ['label:9', 'A driver, by a label'],
  ['job:learn', 'Gudgeon by itself (learning)'],
  ['command:import', 'Gudgeon’s command “import”'],
  ['database:postgres', 'The role postgres, in the database itself'],
])('%s is %s', (actor, words) => {
  const names = new Map([
    ['1', 'Ann'],
    ['3', 'tracker'],
  ])
  expect(actorWords(actor, names)).toBe(words)
})

test('every table of which lines are written has words, and no other', () => {
  const sql = fs
    .readdirSync('prisma/migrations')
    .filter((name) => name >= '20261129180000')
    .filter((name) => !name.endsWith('.toml'))
    .map((name) => fs.readFileSync(`prisma/migrations/${name}/migration.sql`, 'utf8'))
    .join('\n')
  const watched = [...sql.matchAll(/"audit"\."watch"\('(\w+)'/g)].map(([, name]) => name!)
  const records = ['readings', 'codes', 'checks', 'repairs', 'changes']
  expect(Object.keys(THINGS).sort()).toEqual([...new Set([...watched, ...records])].sort())
})

test('a difference of lists and texts is told as it is', () => {
  const told = {
    before: { positions: [1], a: { b: 1, c: 2 } },
    after: { positions: [1, 2], a: { b: 1, c: 3 } },
  }
  expect(differencesOf(told)).toEqual([
    { field: 'positions', before: [1], after: [1, 2] },
    { field: 'c', before: 2, after: 3 },
  ])
})

test('an address says which lines; what means nothing is left out and named', () => {
  const whole = {
    ...{ who: 'person:1', what: 'readings', vehicle: 'L-12' },
    ...{ since: '2026-01-01', until: '2026-06-30', before: '77' },
  }
  const { asked, dropped } = auditAsked(whole)
  expect(dropped).toEqual([])
  expect(asked).toMatchObject({ actor: 'person:1', unit: 'L-12', before: 77 })
  expect(auditParameters(asked)).toEqual(whole)
  expect(auditAsked({ what: 'passwords', since: 'June', before: '-1', who: ' ' })).toEqual({
    asked: { actor: null, what: null, unit: null, since: null, until: null, before: null },
    dropped: ['passwords', 'June', '-1'],
  })
})
