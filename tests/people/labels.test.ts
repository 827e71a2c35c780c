/** Labels: what their keys are like, whom they lead to without a session, what stops working, and how often they are heard. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { newLabelSecret, parseLabelKey, writeLabelKey } from '@/lib/people/label-key'
import { tooManyReports, vehicleOfLabel } from '@/lib/people/labels'
import { parseTokenText } from '@/lib/people/token-text'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readLabels } from '@/lib/store/read/labels'
import { readVehiclesForLabels } from '@/lib/store/read/vehicles-for-labels'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { endLabels, makeLabels } from '@/lib/store/write/make-labels'
import { mergeVehicles } from '@/lib/store/write/merge-vehicles'
import { anOrganisation, EXAMPLE, NOW } from '../store/example-records'
import { testDatabase } from '../store/test-database'

const { database } = await testDatabase()
const by = { now: NOW, by: null, newSecret: newLabelSecret }
const ANN = '00000000-0000-7000-8000-0000000000aa'
const later = (seconds: number) => new Date(NOW.getTime() + seconds * 1000)

const uuid = fc.uuid({ version: 7 })
const secret = fc.uint8Array({ minLength: 16, maxLength: 16 }).map((bytes) => Buffer.from(bytes))
const label = fc.record({ organisation: uuid, id: uuid, secret })

test('a key says what it was written from, in letters that an address and a code may have', () => {
  fc.assert(
    fc.property(label, (given) => {
      const key = writeLabelKey(given)
      expect(key).toMatch(/^[\w-]{64}$/)
      expect(parseLabelKey(key)).toEqual(given)
      expect(parseTokenText(key)).toBeNull()
    }),
  )
})

test('nothing else is a key: cut short, drawn out, with a letter changed it says another thing or none', () => {
  fc.assert(
    fc.property(label, fc.nat(63), fc.string({ minLength: 1, maxLength: 1 }), (given, at, letter) => {
      const key = writeLabelKey(given)
      expect(parseLabelKey(key.slice(0, -1))).toBeNull()
      expect(parseLabelKey(`${key}A`)).toBeNull()
      const changed = key.slice(0, at) + letter + key.slice(at + 1)
      if (changed !== key) expect(parseLabelKey(changed)).not.toEqual(given)
    }),
  )
  for (const text of ['', 'x', 'ü'.repeat(64), '/'.repeat(64)]) expect(parseLabelKey(text)).toBeNull()
})

async function withVehicles(name: string) {
  const organisation = await anOrganisation(database, name)
  const act = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  await act((scope) => addRecords(scope, EXAMPLE, { now: NOW, by: null }))
  return { organisation, act }
}

const keyOf = (organisation: OrganisationId, { id, secret: own }: { id: string; secret: Uint8Array }) =>
  writeLabelKey({ organisation, id, secret: Buffer.from(own) })

test('a label is made once, leads to its vehicle without a session, and is printed again as it was', async () => {
  const { organisation, act } = await withVehicles('labelled')
  await act((scope) => makeLabels(scope, ['B-2', 'B-10', 'nobody'], by))
  const labels = await act((scope) => readLabels(scope, ['B-2', 'B-10']))
  expect(labels.map(({ unit }) => unit)).toEqual(['B-2', 'B-10'])
  await act((scope) => makeLabels(scope, ['B-2'], by))
  expect(await act((scope) => readLabels(scope, ['B-2', 'B-10']))).toEqual(labels)
  expect(await vehicleOfLabel(database, keyOf(organisation, labels[0]!))).toMatchObject({
    ...{ organisation, organisationName: 'labelled', unit: 'B-2' },
  })
})

test('of two who print at once, both get the same label', async () => {
  const { act } = await withVehicles('printed at once')
  await Promise.all([1, 2, 3].map(() => act((scope) => makeLabels(scope, ['B-2'], by))))
  expect(await act((scope) => readLabels(scope, ['B-2']))).toHaveLength(1)
})

test('another secret, another organisation and what was made anew lead nowhere', async () => {
  const [ours, theirs] = [await withVehicles('ours'), await withVehicles('theirs')]
  await ours.act((scope) => makeLabels(scope, ['B-2'], by))
  const [first] = await ours.act((scope) => readLabels(scope, ['B-2']))
  const key = keyOf(ours.organisation, first!)
  expect(await vehicleOfLabel(database, keyOf(theirs.organisation, first!))).toBeNull()
  const guessed = { ...first!, secret: newLabelSecret() }
  expect(await vehicleOfLabel(database, keyOf(ours.organisation, guessed))).toBeNull()
  expect(await theirs.act((scope) => readLabels(scope, ['B-2']))).toEqual([])
  await theirs.act((scope) => endLabels(scope, ['B-2'], by))
  expect(await vehicleOfLabel(database, key)).not.toBeNull()
  await ours.act((scope) => endLabels(scope, ['B-2'], by))
  expect(await vehicleOfLabel(database, key)).toBeNull()
  await ours.act((scope) => makeLabels(scope, ['B-2'], by))
  const [second] = await ours.act((scope) => readLabels(scope, ['B-2']))
  expect(await vehicleOfLabel(database, key)).toBeNull()
  expect((await vehicleOfLabel(database, keyOf(ours.organisation, second!)))?.unit).toBe('B-2')
})

test('the label of a vehicle that was made one with another leads to that one', async () => {
  const { organisation, act } = await withVehicles('merged')
  await act((scope) => makeLabels(scope, ['B-2'], by))
  const [own] = await act((scope) => readLabels(scope, ['B-2']))
  const merged = await act((scope) =>
    mergeVehicles(scope, { unit: 'B-10', other: 'B-2', facts: {}, now: later(10), by: ANN }),
  )
  expect(merged.ok).toBe(true)
  expect((await vehicleOfLabel(database, keyOf(organisation, own!)))?.unit).toBe('B-10')
})

test('vehicles are found by words of their number and plate, and by whether they have a label', async () => {
  const { act } = await withVehicles('found')
  const find = (more: object) =>
    act((scope) =>
      readVehiclesForLabels(scope, { search: '', site: '', without: false, units: [], ...more }, 100),
    )
  const all = (await find({})).vehicles.map(({ unit }) => unit)
  expect(all).toContain('B-2')
  await act((scope) => makeLabels(scope, ['B-2'], by))
  expect((await find({ without: true })).vehicles.map(({ unit }) => unit)).toEqual(
    all.filter((unit) => unit !== 'B-2'),
  )
  expect((await find({ search: 'b-2' })).vehicles[0]).toMatchObject({ unit: 'B-2', labelledAt: NOW })
  expect(await find({ search: '%' })).toEqual({ vehicles: [], total: 0 })
})

test('a label is heard four times a minute, and one address ten times by whatever labels', async () => {
  const send = (key: string, address: string, seconds = 0) =>
    tooManyReports(database, {
      key,
      headers: new Headers({ 'x-forwarded-for': address }),
      now: later(seconds),
    })
  const ofOne = await Promise.all(Array.from({ length: 4 }, (_, i) => send('one', `192.0.2.${i}`)))
  expect(ofOne).toEqual([false, false, false, false])
  expect(await send('one', '192.0.2.99')).toBe(true)
  expect(await send('another', '192.0.2.99')).toBe(false)
  for (let i = 0; i < 10; i++) expect(await send(`label ${i}`, '198.51.100.1')).toBe(false)
  expect(await send('label 11', '198.51.100.1')).toBe(true)
  expect(await send('one', '198.51.100.1', 61)).toBe(false)
})
