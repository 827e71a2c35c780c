/** What drivers report: without effect until it is confirmed, then a check like any other; undone, as if it had never been. */
import { beforeAll, expect, test } from 'vitest'
import { confirmIn, reopenIn } from '@/app/(people)/reports/answer-report'
import { changeRecords } from '@/lib/jobs/change-records'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { countWaitingReports, readDriverReports } from '@/lib/store/read/driver-reports'
import { readVehicleRecords } from '@/lib/store/read/vehicle-records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addDriverReport } from '@/lib/store/write/add-driver-report'
import { answerDriverReport } from '@/lib/store/write/answer-driver-report'
import { runSql, testDatabase } from '../store/test-database'
import { demoFleet, NOW, withLibrary } from './demo-fleet'
import { storedScores } from './stored-scores'

const { database, adminUrl } = await testDatabase()
const fleet = demoFleet(4)
let organisation: OrganisationId
let others: OrganisationId
const [tess, timo] = ['00000000-0000-7000-8000-000000000001', '00000000-0000-7000-8000-000000000002']
let clock = NOW.getTime()
const now = () => {
  clock += 1000
  return new Date(clock)
}
const act = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')

/** A vehicle, and a sign of its engine that a driver can notice. */
const { unit, family: familyKey } = fleet.records.vehicles[0]!
const family = fleet.library.families.find(({ key }) => key === familyKey)!
const sign = family.signs.find(({ kind }) => kind === 'road' || kind === 'visual')!
const REPORT = { kind: 'noise', words: 'knocks uphill', odometerKm: null, driver: 'Mo' } as const

beforeAll(async () => {
  organisation = await withLibrary(database, 'reported', fleet)
  others = await withLibrary(database, 'others', fleet)
  await enterRecords(database, organisation, fleet.records, { now: NOW, by: null })
  await freshenScores(database, organisation, NOW)
  await runSql(
    adminUrl,
    `insert into people (id, name, email, updated_at) values ('${tess}', 'Tess', 't@mill.example', now()),
       ('${timo}', 'Timo', 'm@mill.example', now())`,
  )
})

const scores = async () => [...(await storedScores(database, organisation)).values()]
const report = async () => {
  const kept = await act((scope) => addDriverReport(scope, unit, REPORT, now()))
  if (!kept.ok) throw new Error(kept.reason)
  return kept.id
}
const confirm = (id: string, typed: Record<string, string>, by = tess) => {
  const at = now()
  const fields = { unit: 'km', ...typed }
  const act = (scope: OrganisationScope) =>
    confirmIn(scope, { report: id, now: at, by }, { fields, sure: null })
  return changeRecords(database, organisation, act, at)
}

test('a report waits, is told with its vehicle, and moves no score', async () => {
  const before = await scores()
  const id = await report()
  await freshenScores(database, organisation, now())
  expect(await scores()).toEqual(before)
  expect(await act((scope) => readDriverReports(scope, { waitingOf: unit }))).toMatchObject([
    { id, unit, ...REPORT, answer: null },
  ])
  expect(await act(countWaitingReports)).toBe(1)
  await withOrganisation(database, others, async (scope) => {
    expect(await readDriverReports(scope, { id })).toEqual([])
    expect(await answerDriverReport(scope, id, { act: 'confirmed' }, { now: NOW, by: tess })).toBe(false)
  })
})

test('confirmed, it is a check of kind report with the signs that were chosen, who confirmed it, and its effect', async () => {
  const before = await scores()
  const id = await report()
  const nothing = await confirm(id, {})
  expect(nothing.result).toMatchObject({ ok: false, reason: 'to-mend', slips: [{ field: 'look' }] })
  const { result, vehicles } = await confirm(id, { [`sign:${sign.key}`]: 'yes', said: 'knocks uphill' })
  expect(result.ok).toBe(true)
  const moved = vehicles.flatMap(({ components }) => components)
  expect(moved.some(({ pFail }) => pFail.before !== pFail.after)).toBe(true)
  const records = await act((scope) => readVehicleRecords(scope, unit))
  expect(records.filter(({ enteredBy }) => enteredBy === tess)).toMatchObject([
    { kind: 'checks', state: 'live', row: { kind: 'report', seen: [{ sign: sign.key }] } },
  ])
  const [kept] = await act((scope) => readDriverReports(scope, { id }))
  expect(kept!.answer).toMatchObject({ act: 'confirmed', byName: 'Tess' })
  // Once is enough, whoever presses.
  expect((await confirm(id, { [`sign:${sign.key}`]: 'yes' }, timo)).result).toMatchObject({
    reason: 'answered',
  })

  const at = now()
  const undo = (scope: OrganisationScope) => reopenIn(scope, { report: id, now: at, by: timo })
  expect((await changeRecords(database, organisation, undo, at)).result.touched).toEqual([unit])
  const back = await scores()
  expect(back.map(({ pFail }) => pFail)).toEqual(before.map(({ pFail }) => pFail))
  const taken = await act((scope) => readVehicleRecords(scope, unit))
  expect(taken.filter(({ enteredBy }) => enteredBy === tess)).toMatchObject([
    { state: 'withdrawn', withdrawnBy: timo },
  ])
  expect((await act((scope) => readDriverReports(scope, { id })))[0]!.answer).toBeNull()
  expect(
    await runSql(
      adminUrl,
      `select act, by::text, undone_by::text from driver_report_acts where report_id = '${id}'`,
    ),
  ).toEqual([{ act: 'confirmed', by: tess, undone_by: timo }])
})

test('set aside for a reason it moves nothing; of two who answer at once one does; undone it waits again', async () => {
  const before = await scores()
  const id = await report()
  const aside = { act: 'set-aside', reason: 'the exhaust hanger' } as const
  const answers = await Promise.all(
    [tess, timo].map((by) => act((scope) => answerDriverReport(scope, id, aside, { now: now(), by }))),
  )
  expect(answers.filter(Boolean)).toHaveLength(1)
  await freshenScores(database, organisation, now())
  expect(await scores()).toEqual(before)
  expect((await act((scope) => readDriverReports(scope, { answered: true, most: 5 })))[0]).toMatchObject({
    id,
    answer: { act: 'set-aside', reason: 'the exhaust hanger' },
  })
  expect(await act((scope) => reopenIn(scope, { report: id, now: now(), by: timo }))).toEqual({ touched: [] })
  expect((await act((scope) => readDriverReports(scope, { id })))[0]!.answer).toBeNull()
})

test('no more than forty wait of one vehicle, however many come at once; a vehicle that is not there has none', async () => {
  const waiting = (await act((scope) => readDriverReports(scope, { waitingOf: unit }))).length
  const sent = await Promise.all(
    Array.from({ length: 45 }, () => act((scope) => addDriverReport(scope, unit, REPORT, now()))),
  )
  expect(sent.filter(({ ok }) => ok)).toHaveLength(40 - waiting)
  expect(sent.find(({ ok }) => !ok)).toEqual({ ok: false, reason: 'too-many-wait' })
  expect(await act((scope) => addDriverReport(scope, 'nobody', REPORT, now()))).toEqual({
    ...{ ok: false, reason: 'not-found' },
  })
})
