import { setTimeout as sleep } from 'node:timers/promises'
import { expect, test } from 'vitest'
import { changeRecords } from '@/lib/jobs/change-records'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { getReady } from '@/lib/jobs/get-ready'
import { workInBackground } from '@/lib/jobs/work-in-background'
import { readVehicleRecords } from '@/lib/store/read/vehicle-records'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { withdrawRecord } from '@/lib/store/write/withdraw-record'
import { listenToLog } from '../log/logged'
import { runSql, testDatabase } from '../store/test-database'
import { demoFleet, NOW, partOf, TODAY, withLibrary } from './demo-fleet'
import { expectAsScored, storedScores } from './stored-scores'

const { database, url, adminUrl } = await testDatabase()
const fleet = demoFleet(6)
const PATIENCE_MS = 300_000
const nothing = partOf(fleet.records, () => false)
const entry = { now: NOW, by: null }

/** A misfire seen today on the first vehicle. */
const UNIT = fleet.records.vehicles[0]?.unit ?? ''
const misfire = fleet.records.codes.slice(0, 1).map((code) => ({
  ...code,
  ...{ unit: UNIT, code: 'P0302', seenOn: TODAY, odometerKm: null, ref: 'misfire' },
}))

test(
  'one code moves the scores of its vehicle at once and says by how much, and those of no other; withdrawn it is as before',
  async () => {
    const organisation = await withLibrary(database, 'one code', fleet)
    await enterRecords(database, organisation, fleet.records, entry)
    await freshenScores(database, organisation, NOW)
    const before = await storedScores(database, organisation)

    const entered = await enterRecords(database, organisation, { ...nothing, codes: misfire }, entry)
    expect(entered.counts.codes).toEqual({ accepted: 1, unchanged: 0, superseded: 0 })
    const after = await storedScores(database, organisation)
    const moved = [...after].filter(([key, { pFail }]) => before.get(key)?.pFail !== pFail)
    expect(moved.length).toBeGreaterThan(0)
    expect(new Set(moved.map(([, { unit }]) => unit))).toEqual(new Set([UNIT]))
    const [change] = entered.vehicles
    for (const { weakPoint, position, pFail } of change?.components ?? []) {
      const key = `${UNIT} ${weakPoint} ${position} 90`
      expect(pFail).toEqual({ before: before.get(key)?.pFail, after: after.get(key)?.pFail })
    }
    expect(await freshenScores(database, organisation, NOW)).toBe(0)
    await expectAsScored(database, organisation, fleet)

    const records = await withOrganisation(database, organisation, (scope) => readVehicleRecords(scope, UNIT))
    const id = records.find(({ row }) => row.ref === 'misfire')?.id ?? ''
    const withdrawn = await changeRecords(
      database,
      organisation,
      (scope) => withdrawRecord(scope, { kind: 'codes', id, ...entry }),
      NOW,
    )
    expect(withdrawn.result).toMatchObject({ ok: true, touched: [UNIT] })
    expect(await storedScores(database, organisation)).toEqual(before)
  },
  PATIENCE_MS,
)

test(
  'the background scores what others bring in, as soon as it is told of it',
  async () => {
    const organisation = await withLibrary(database, 'background', fleet)
    const log = listenToLog()
    const stop = workInBackground(database, url, {
      now: () => NOW,
      webhooks: { anywhere: false, productAddress: 'http://localhost' },
    })
    try {
      await sleep(500)
      await withOrganisation(
        database,
        organisation,
        (scope) => addRecords(scope, fleet.records, entry),
        'write',
      )
      const giveUpAt = performance.now() + 60_000
      while ((await storedScores(database, organisation)).size === 0 && performance.now() < giveUpAt)
        await sleep(100)
      expect(await expectAsScored(database, organisation, fleet)).toBeGreaterThan(100)
      expect(log.text()).toBe('')
    } finally {
      stop()
      log.stop()
    }
  },
  PATIENCE_MS,
)

test(
  'getting ready enters on every vehicle and leaves nothing behind',
  async () => {
    const organisation = await withLibrary(database, 'getting ready', fleet)
    await enterRecords(database, organisation, fleet.records, entry)
    await freshenScores(database, organisation, NOW)
    const state = async () => ({
      scores: await storedScores(database, organisation),
      records: await withOrganisation(database, organisation, (scope) =>
        Promise.all(fleet.records.vehicles.map(({ unit }) => readVehicleRecords(scope, unit))),
      ),
    })
    const before = await state()
    expect(await getReady(database, () => NOW)).toBeGreaterThanOrEqual(fleet.records.vehicles.length)
    expect(await state()).toEqual(before)
    expect(await freshenScores(database, organisation, NOW)).toBe(0)
  },
  PATIENCE_MS,
)

test('what is entered is kept where it cannot be scored', async () => {
  const organisation = await withLibrary(database, 'library broken', fleet)
  await runSql(adminUrl, `update libraries set content = '{}' where organisation_id = '${organisation}'`)
  const vehicle = { ...nothing, vehicles: fleet.records.vehicles.slice(0, 1), codes: misfire }
  const { counts, vehicles } = await enterRecords(database, organisation, vehicle, entry)
  expect(counts.codes.accepted).toBe(1)
  expect(vehicles).toEqual([])
  const kept = await withOrganisation(database, organisation, (scope) => readVehicleRecords(scope, UNIT))
  expect(kept.map(({ row }) => row.ref)).toContain('misfire')
})
