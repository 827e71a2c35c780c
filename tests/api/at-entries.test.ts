/** What a phone sends: kept once, refused with reasons, and never in somebody else's name. */
import { randomUUID } from 'node:crypto'
import { beforeAll, expect, test } from 'vitest'
import type { SentEntry } from '@/app/(people)/at/sent-entry'
import { enterSent } from '@/app/(people)/at-entries/enter-sent'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { readPhotograph, readPhotographs } from '@/lib/store/read/photographs'
import { readVehicleRecords } from '@/lib/store/read/vehicle-records'
import { readVehiclesToTakeAlong } from '@/lib/store/read/vehicles-to-take-along'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { restorePhotograph, withdrawPhotograph } from '@/lib/store/write/photograph'
import { withdrawRecord } from '@/lib/store/write/withdraw-record'
import { demoFleet, NOW, TODAY, withLibrary } from '../jobs/demo-fleet'
import { aJpeg } from '../records/a-jpeg'
import { testDatabase } from '../store/test-database'

const { database } = await testDatabase()
const fleet = demoFleet(2)
const UNIT = fleet.records.vehicles[0]!.unit
const PERSON = { id: randomUUID(), name: 'Ann' }
let organisation: Awaited<ReturnType<typeof withLibrary>>
beforeAll(async () => {
  organisation = await withLibrary(database, 'at the vehicle', fleet)
  await withOrganisation(
    database,
    organisation,
    (scope) => addRecords(scope, fleet.records, { now: NOW, by: null }),
    'write',
  )
  await freshenScores(database, organisation, NOW)
})

const entryOf = (more: Partial<SentEntry> = {}): SentEntry => ({
  ...{ id: randomUUID(), person: PERSON.id, organisation, unit: UNIT, sure: null },
  ...{ kind: 'codes', fields: { codes: 'P0302', unit: 'km' }, madeAt: NOW.toISOString() },
  ...more,
})
const send = (entry: SentEntry, photograph: Uint8Array<ArrayBuffer> | null = null, now = NOW) =>
  enterSent(database, { person: PERSON, organisation }, { entry, photograph }, now)
const inScope = <T>(work: Parameters<typeof withOrganisation<T>>[2]) =>
  withOrganisation(database, organisation, work, 'write')
const liveCodes = async (code: string) =>
  (await inScope((scope) => readVehicleRecords(scope, UNIT))).filter(
    (record) => record.kind === 'codes' && record.state === 'live' && record.row.code === code,
  )

test('the same entry sent at the same moment, and long after, is kept once and answered alike', async () => {
  const entry = entryOf({ fields: { codes: 'P0303' } })
  const answers = await Promise.all(Array.from({ length: 6 }, () => send(entry)))
  expect(answers.every(({ outcome }) => outcome === 'entered')).toBe(true)
  const [kept, ...others] = await liveCodes('P0303')
  expect(others).toEqual([])
  const [first] = answers.filter((answer) => answer.outcome === 'entered' && answer.lines.length > 0)
  expect(first).toMatchObject({ outcome: 'entered', words: expect.stringContaining('P0303') })
  // Withdrawn since: what arrives again does not bring it back.
  await inScope((scope) => withdrawRecord(scope, { kind: 'codes', id: kept!.id, now: NOW, by: PERSON.id }))
  const later = new Date(NOW.getTime() + 300 * 86_400_000)
  expect(await send(entry, null, later)).toEqual(first)
  expect(await liveCodes('P0303')).toEqual([])
})

test('an odometer that does not follow is asked about, and kept once that is answered, under the same id', async () => {
  const entry = entryOf({ kind: 'reading', fields: { odometer: '1 km', on: 'today' } })
  const asked = await send(entry)
  expect(asked).toMatchObject({
    outcome: 'asked',
    question: { words: expect.stringContaining('lower than') },
  })
  if (asked.outcome !== 'asked') return
  expect(await send({ ...entry, sure: asked.question.sure })).toMatchObject({ outcome: 'entered' })
})

test('what cannot be taken comes back with its reasons, and may come again under the same id', async () => {
  const entry = entryOf({ kind: 'look', fields: {} })
  expect(await send(entry)).toMatchObject({
    outcome: 'refused',
    reasons: [expect.stringContaining('at least one')],
  })
  expect(await send({ ...entry, fields: { on: '2999-01-01' } })).toMatchObject({ outcome: 'refused' })
  const away = entryOf({ unit: 'nobody knows it' })
  expect(await send(away)).toEqual({ outcome: 'gone', into: null })
  expect(await send({ ...away, unit: UNIT, fields: { codes: 'P0304' } })).toMatchObject({
    outcome: 'entered',
  })
})

test('what somebody else made, or for another organisation, is not taken in this name', async () => {
  expect(await send(entryOf({ person: randomUUID() }))).toEqual({ outcome: 'somebody-else' })
  expect(await send(entryOf({ organisation: randomUUID() }))).toEqual({ outcome: 'somebody-else' })
})

test('the same id with other contents is told, not taken', async () => {
  const entry = entryOf({ fields: { codes: 'P0301' } })
  expect(await send(entry)).toMatchObject({ outcome: 'entered' })
  expect(await send({ ...entry, fields: { codes: 'P0305' } })).toMatchObject({ outcome: 'refused' })
  expect(await liveCodes('P0305')).toEqual([])
})

test('a photograph is kept once with its vehicle, withdrawn, and brought back; what is none is refused', async () => {
  const entry = entryOf({ kind: 'photograph', fields: { note: ' Leak below ' } })
  const picture = aJpeg(1200, 1600)
  expect(await send(entry, new TextEncoder().encode('<svg/>'))).toMatchObject({ outcome: 'refused' })
  expect(await send(entry)).toMatchObject({ outcome: 'refused' })
  await Promise.all([send(entry, picture), send(entry, picture)])
  const [kept, ...others] = await inScope((scope) => readPhotographs(scope, UNIT))
  expect(others).toEqual([])
  expect(kept).toMatchObject({
    width: 1200,
    height: 1600,
    note: 'Leak below',
    takenAt: NOW,
    withdrawnAt: null,
  })
  const bytes = () => inScope((scope) => readPhotograph(scope, kept!.id))
  expect(Buffer.from((await bytes())!).equals(picture)).toBe(true)
  await inScope((scope) => withdrawPhotograph(scope, kept!.id, { now: NOW, by: PERSON.id }))
  expect(await bytes()).toBeNull()
  await inScope((scope) => restorePhotograph(scope, kept!.id))
  expect(await bytes()).not.toBeNull()
})

test('a phone takes along each vehicle with its last odometer as it was read', async () => {
  const vehicles = await inScope(readVehiclesToTakeAlong)
  expect(vehicles.map(({ unit }) => unit).sort()).toEqual(
    fleet.records.vehicles.map(({ unit }) => unit).sort(),
  )
  const other = vehicles.find(({ unit }) => unit !== UNIT)!
  const last = fleet.records.readings
    .filter(({ unit }) => unit === other.unit)
    .sort((a, b) => a.readOn - b.readOn)
  expect(other.odometer?.day).toBeLessThanOrEqual(TODAY)
  const onThatDay = [
    ...fleet.records.readings,
    ...fleet.records.codes,
    ...fleet.records.checks,
    ...fleet.records.repairs,
  ]
  expect(onThatDay.some((row) => row.unit === other.unit && row.odometerKm === other.odometer?.km)).toBe(true)
  expect(other.odometer!.day).toBeGreaterThanOrEqual(last.at(-1)!.readOn - 400)
})
