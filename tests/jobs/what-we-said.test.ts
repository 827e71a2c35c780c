/** What we said of a part that failed: from scores that were kept, and worked out afterwards where history came late. */
import { expect, test } from 'vitest'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { whatWeSaid } from '@/lib/jobs/what-we-said'
import { type Library, parseLibrary } from '@/lib/records/library'
import type { Records } from '@/lib/records/rows'
import { cameTrue } from '@/lib/replay/came-true'
import { lookBack } from '@/lib/replay/look-back'
import { judgeAll } from '@/lib/replay/replay'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readSaidHistory } from '@/lib/store/read/said-history'
import { readVehicleRecords } from '@/lib/store/read/vehicle-records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addReplay } from '@/lib/store/write/add-replay'
import { withdrawRecord } from '@/lib/store/write/withdraw-record'
import { formatDay } from '@/lib/units/dates'
import { at, point, sign } from '../scoring/one-vehicle'
import { checkRow, codeRow, readingRow, recordsOf, repairRow, vehicleRow } from '../simulation/record-rows'
import { runSql, testDatabase } from '../store/test-database'
import { NOW, TODAY, withLibrary } from './demo-fleet'

const { database, adminUrl } = await testDatabase()
const CONTENT = JSON.stringify({
  format: 'gudgeon-library/1',
  name: 'Hand-made',
  labourRate: 80,
  dayOffRoad: 120,
  families: [
    {
      key: 'plover-22',
      name: 'Plover 2.2',
      cylinders: 2,
      weakPoints: [point('injector', 90_000, 180_000, 8000, { positions: 2 })],
      signs: [
        sign('misfire', 'code', { injector: 0.4 }, { codes: ['P030#'] }),
        sign('soot', 'visual', { injector: 0.3 }),
      ],
    },
  ],
})
const library = readLibrary(CONTENT)

function readLibrary(content: string): Library {
  const parsed = parseLibrary(content)
  if (!parsed.ok) throw new Error(parsed.errors[0]?.message)
  return parsed.library
}

const unit = 'T1'
const FAILED_ON = TODAY - 25
const KM_PER_DAY = 60
const BORN = TODAY - 2000

const instant = (day: number) => new Date(NOW.getTime() + (day - TODAY) * 86_400_000)
const kmOn = (day: number) => (day - BORN) * KM_PER_DAY
const vehicles = [vehicleRow({ unit, family: 'plover-22', builtOn: BORN, inServiceOn: BORN })]
const readingsOn = (from: number, to: number) =>
  Array.from({ length: Math.floor((to - from) / 30) + 1 }, (_, i) => from + 30 * i).map((readOn) =>
    readingRow({ unit, readOn, odometerKm: kmOn(readOn) }),
  )
const failure = repairRow({
  ...{ unit, doneOn: FAILED_ON, weakPoint: 'injector', positions: [2] },
  ...{ found: 'failed', because: 'failure' },
})
const look = (day: number, enteredOn: number | null = null) =>
  checkRow({ unit, checkedOn: day, kind: 'visual', seen: [at('soot')], enteredOn })

async function anOrganisation(name: string): Promise<OrganisationId> {
  const records = recordsOf({})
  const settings = { ...records.settings, timeZone: 'UTC' }
  return withLibrary(database, name, { content: CONTENT, library, records: { ...records, settings } })
}

/** Somebody, or a file, hands in rows on a day, and the scores of that day are made. */
async function onDay(organisation: OrganisationId, day: number, rows: Partial<Records>): Promise<void> {
  const now = instant(day)
  await enterRecords(database, organisation, recordsOf(rows), { now, by: null })
  await freshenScores(database, organisation, now)
}

const read = <T>(organisation: OrganisationId, question: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, question)

const failureOf = async (organisation: OrganisationId) => {
  const all = await read(organisation, (scope) => readVehicleRecords(scope, unit))
  return all.find(({ kind, row }) => kind === 'repairs' && 'found' in row && row.found === 'failed')!.id
}

async function saidOf(organisation: OrganisationId, position: number | null = null) {
  const said = await whatWeSaid(database, organisation, {
    unit,
    repair: await failureOf(organisation),
    position,
  })
  if (!said) throw new Error('There is no such failure')
  return said
}

const [FIRST, CODE, LATE_LOOK] = [TODAY - 200, TODAY - 100, TODAY - 40]

/** Used since FIRST: a code on CODE, a look that was made ten days later and came in on LATE_LOOK, then the failure. */
async function inUse(name: string): Promise<OrganisationId> {
  const organisation = await anOrganisation(name)
  await onDay(organisation, FIRST, { vehicles, readings: readingsOn(BORN, FIRST) })
  await onDay(organisation, CODE, {
    readings: readingsOn(FIRST + 10, CODE),
    codes: [codeRow({ unit, seenOn: CODE, code: 'P0302' })],
  })
  await onDay(organisation, LATE_LOOK, { checks: [look(CODE + 10)] })
  await onDay(organisation, TODAY - 20, { repairs: [failure] })
  return organisation
}

test('what was said is told from the scores that were kept, with what lay in the store when it was said', async () => {
  const organisation = await inUse('kept')
  const { kept, keptFrom, position, positions, workedOut } = await saidOf(organisation)
  expect([position, positions, keptFrom]).toEqual([2, [2], FIRST])
  const scored = await read(organisation, (scope) =>
    readSaidHistory(scope, { unit, weakPoint: 'injector', position: 2, before: FAILED_ON }),
  )
  expect(kept.map(({ asOf, saidAt, pFail, advice }) => [asOf, saidAt, pFail, advice])).toEqual(
    scored.map(({ asOf, scoredAt, pFail, advice }) => [asOf, scoredAt, pFail, advice]),
  )
  expect(kept.map(({ asOf }) => asOf)).toEqual([FIRST, CODE, LATE_LOOK])
  const [first, code, lateLook] = kept
  expect(first!.known).toMatchObject({ seen: [], looks: [] })
  expect(code!.known.seen).toEqual([{ label: 'misfire', position: 2, days: [CODE] }])
  expect(code!.known.unlooked).toEqual([{ label: 'soot', position: null, last: null }])
  expect(code!.pFail).toBeGreaterThan(2 * first!.pFail)
  // The look was made after the code; it was not known before it came in, which was before the failure.
  expect(lateLook!.known.seen.map(({ label }) => label)).toEqual(['misfire', 'soot'])
  expect(lateLook!.known.unlooked).toEqual([])
  expect(['stop', 'book', 'check']).toContain(code!.advice)
  expect(code!.followed).toEqual({ how: 'looked', on: CODE + 10 })
  expect(lateLook!.followed).toEqual(lateLook!.advice === 'watch' ? null : { how: 'nothing' })
  // Before the first score there is a year to tell of: apart, and none of it later.
  expect(workedOut.length).toBeGreaterThan(0)
  expect(workedOut.every(({ asOf, saidAt }) => saidAt === null && asOf < FIRST)).toBe(true)
})

test('a look that was made before a score and came in after it is told as that, and not as known', async () => {
  const organisation = await anOrganisation('came later')
  await onDay(organisation, FIRST, { vehicles, readings: readingsOn(BORN, FIRST) })
  await onDay(organisation, LATE_LOOK, { checks: [look(FIRST - 5)] })
  await onDay(organisation, TODAY - 20, { repairs: [failure] })
  const { kept } = await saidOf(organisation)
  expect(kept[0]!.asOf).toBe(FIRST)
  expect([kept[0]!.known.seen, kept[0]!.cameLater]).toEqual([[], 1])
  expect(kept[0]!.known.unlooked.map(({ label, last }) => [label, last])).toEqual([
    ['misfire', null],
    ['soot', null],
  ])
})

test('where the history came in after the failure nothing was said; what would have been is worked out, apart', async () => {
  const organisation = await anOrganisation('history')
  const [known, hidden] = [FAILED_ON - 70, FAILED_ON - 60]
  await onDay(organisation, TODAY, {
    vehicles,
    readings: readingsOn(BORN, TODAY - 1),
    checks: [look(known), look(hidden, FAILED_ON + 1)],
    repairs: [failure],
  })
  const { kept, keptFrom, workedOut } = await saidOf(organisation)
  expect([kept, keptFrom]).toEqual([[], null])
  expect(workedOut.at(-1)!.asOf).toBe(FAILED_ON - 1)
  for (const { asOf, known: then, cameLater, saidAt } of workedOut) {
    expect(saidAt).toBeNull()
    // Imported history counts from its own day; what says that it was entered later does not.
    expect(then.seen.flatMap(({ days }) => days)).toEqual(asOf >= known ? [known] : [])
    expect(cameLater).toBe(asOf >= hidden ? 1 : 0)
  }
  expect(workedOut.some(({ asOf }) => asOf < known)).toBe(true)
  const before = workedOut.filter(({ asOf }) => asOf < known).at(-1)!
  expect(workedOut.at(-1)!.pFail).toBeGreaterThan(before.pFail)
  if (before.followed !== null) expect(before.followed).toEqual({ how: 'looked', on: known })
  // Asked again it is the same, and another as soon as a record is.
  expect((await saidOf(organisation)).workedOut).toEqual(workedOut)
  const misfire = codeRow({ unit, seenOn: known - 20, code: 'P0302' })
  await onDay(organisation, TODAY, { codes: [misfire] })
  const anew = (await saidOf(organisation)).workedOut
  expect(anew.at(-1)!.known.seen.map(({ label }) => label)).toContain('misfire')
})

test('kept scores of other days, places and horizons are none of what was said', async () => {
  const organisation = await inUse('others')
  const ask = { unit, weakPoint: 'injector', position: 2, before: FAILED_ON }
  const before = await read(organisation, (scope) => readSaidHistory(scope, ask))
  const plant = (position: number, days: number, asOf: number, second: number) =>
    `insert into score_history select organisation_id, vehicle_id, weak_point, ${position}, ${days}, '${formatDay(asOf)}',
       timestamptz '2026-03-01 00:00:0${second}Z', 0.9, 0.8, 0.95, 'stop', 1
     from score_history where organisation_id = '${organisation}' and position = 2 limit 1`
  await runSql(
    adminUrl,
    plant(2, 90, FAILED_ON, 1),
    plant(1, 90, FAILED_ON - 1, 2),
    plant(2, 30, FAILED_ON - 1, 3),
  )
  expect(await read(organisation, (scope) => readSaidHistory(scope, ask))).toEqual(before)
  await runSql(adminUrl, plant(2, 90, FAILED_ON - 1, 4))
  const after = await read(organisation, (scope) => readSaidHistory(scope, ask))
  expect([after.length, after.at(-1)!.advice]).toEqual([before.length + 1, 'stop'])
})

test('how often such chances come true is told by the latest replay of that horizon, and by none before', async () => {
  const organisation = await inUse('replayed')
  expect(await saidOf(organisation)).toMatchObject({ replayedTo: null })
  const records = recordsOf({
    vehicles: Array.from({ length: 30 }, (_, i) => ({ ...vehicles[0]!, unit: `R${i}` })),
    readings: Array.from({ length: 30 }, (_, i) =>
      readingsOn(BORN, TODAY).map((row) => ({ ...row, unit: `R${i}` })),
    ).flat(),
    repairs: [{ ...failure, unit: 'R3', doneOn: TODAY - 100 }],
  })
  const keep = async (days: number, at: number) => {
    const plan = { from: TODAY - 150, to: TODAY - 120, every: 30, days }
    const work = { records, library, plan, learning: false }
    const replay = judgeAll(work, lookBack(work))
    const head = { draft: null, libraryVersion: 1, asOf: TODAY, learned: false, comparison: null, by: null }
    const now = new Date(NOW.getTime() + at)
    await withOrganisation(
      database,
      organisation,
      (scope) => addReplay(scope, { ...head, content: JSON.stringify(replay), now }),
      'write',
    )
    return replay
  }
  const replay = await keep(90, 1000)
  const said = await saidOf(organisation)
  expect(said.replayedTo).toBe(TODAY - 120)
  expect(said.kept.map((told) => told.cameTrue)).toEqual(
    said.kept.map(({ pFail }) => cameTrue(replay, pFail, 'product')),
  )
  expect(said.workedOut.map((told) => told.cameTrue)).toEqual(
    said.workedOut.map(({ pFail }) => cameTrue(replay, pFail, 'library')),
  )
  expect([...said.kept, ...said.workedOut].some((told) => told.cameTrue !== null)).toBe(true)
  await keep(30, 2000)
  expect(await saidOf(organisation)).toMatchObject({ replayedTo: null })
})

test('a repair that found nothing failed, was withdrawn or is another vehicle’s tells nothing', async () => {
  const organisation = await inUse('none')
  const repair = await failureOf(organisation)
  const ask = (asked: { unit: string; repair: string; position: number | null }) =>
    whatWeSaid(database, organisation, asked)
  expect(await ask({ unit, repair, position: 1 })).toBeNull()
  expect(await ask({ unit: 'no such', repair, position: null })).toBeNull()
  expect(await ask({ unit, repair: 'no such', position: null })).toBeNull()
  expect(await ask({ unit, repair, position: null })).not.toBeNull()
  const other = await anOrganisation('another')
  expect(await whatWeSaid(database, other, { unit, repair, position: null })).toBeNull()
  const act = { kind: 'repairs' as const, id: repair, by: null, now: NOW }
  await withOrganisation(database, organisation, (scope) => withdrawRecord(scope, act), 'write')
  expect(await ask({ unit, repair, position: null })).toBeNull()
})
