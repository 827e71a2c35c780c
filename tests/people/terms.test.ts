import { beforeAll, expect, test } from 'vitest'
import { termsSchema } from '@/app/(people)/settings/terms-schema'
import { parseForm } from '@/app/ui/form-state'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readSettings } from '@/lib/store/read/settings'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { putTerms } from '@/lib/store/write/put-terms'
import { anOrganisation, EXAMPLE, NOW } from '../store/example-records'
import { runSql, testDatabase } from '../store/test-database'

const { database, adminUrl } = await testDatabase()
let ours: OrganisationId
let theirs: OrganisationId

beforeAll(async () => {
  ours = await anOrganisation(database, 'ours')
  theirs = await anOrganisation(database, 'theirs')
  for (const organisation of [ours, theirs])
    await withOrganisation(
      database,
      organisation,
      (scope) => addRecords(scope, EXAMPLE, { now: NOW, by: null }),
      'write',
    )
})

const put = (name: string, settings: Parameters<typeof putTerms>[1]['settings']) =>
  withOrganisation(database, ours, (scope) => putTerms(scope, { name, settings }), 'write')
const versions = async (organisation: OrganisationId) =>
  (
    await runSql(
      adminUrl,
      `select records_version::int as n from vehicles where organisation_id = '${organisation}' order by unit`,
    )
  ).map(({ n }) => Number(n))

test('what is changed holds, what is not stands, and every score of that organisation alone is stale', async () => {
  const [before, others] = [await versions(ours), await versions(theirs)]
  const earlier = await withOrganisation(database, ours, readSettings)
  expect(await put('Ours & Sons', { labourRate: 92.5, stopLimit: 0.2 })).toBe(true)
  const { terms, settings } = await withOrganisation(database, ours, async (scope) => ({
    terms: await readTerms(scope),
    settings: await readSettings(scope),
  }))
  expect(terms.name).toBe('Ours & Sons')
  expect(settings).toEqual({ ...earlier, labourRate: 92.5, stopLimit: 0.2 })
  expect(await versions(ours)).toEqual(before.map((n) => n + 1))
  expect(await versions(theirs)).toEqual(others)
})

test('a name that is taken changes nothing', async () => {
  const before = await versions(ours)
  expect(await put('theirs', { labourRate: 1 })).toBe(false)
  expect((await withOrganisation(database, ours, readSettings)).labourRate).toBe(92.5)
  expect(await versions(ours)).toEqual(before)
})

const TYPED = {
  name: ' Ours ',
  currency: 'EUR',
  distance: 'km',
  vehicleNumber: 'plate',
  locale: 'de-AT',
  timeZone: 'Europe/Vienna',
  labourRate: '1 092,50',
  dayOffRoad: '',
  visit: '0',
  slotDays: '14',
  adviceHorizonDays: '90',
  stopLimit: '10',
  watchLimit: '2,5',
}
const typed = (change: Partial<Record<keyof typeof TYPED, string>>) => {
  const data = new FormData()
  for (const [name, value] of Object.entries({ ...TYPED, ...change })) data.set(name, value)
  return parseForm(termsSchema, data)
}

test('the form reads numbers as people write them; a blank price is the library’s', () => {
  expect(typed({})).toMatchObject({
    ok: true,
    value: {
      name: 'Ours',
      labourRate: 1092.5,
      dayOffRoad: null,
      visit: 0,
      stopLimit: 0.1,
      watchLimit: 0.025,
    },
  })
})

test.each([
  ['name', ' '],
  ['currency', ''],
  ['locale', 'x'],
  ['timeZone', 'Mars/Base'],
  ['labourRate', 'ninety'],
  ['visit', '-1'],
  ['slotDays', '0'],
  ['adviceHorizonDays', ''],
  ['stopLimit', '101'],
  ['watchLimit', ''],
] as const)('%s written as "%s" is said at that field alone', (field, text) => {
  const parsed = typed({ [field]: text })
  expect(parsed.ok ? [] : parsed.errors.map((error) => error.field)).toEqual([field])
})
