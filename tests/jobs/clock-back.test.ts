/** The machine's clock is put back by two days, and by and by is right again: nothing is lost, refused or told twice. */
import { expect, test } from 'vitest'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { refitWhenDue } from '@/lib/jobs/refit'
import { readAuditChain } from '@/lib/store/read/audit-chain'
import { readFitInForce } from '@/lib/store/read/fit-in-force'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { readVehicleRecords } from '@/lib/store/read/vehicle-records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askRefit } from '@/lib/store/write/ask-refit'
import { putLibrary } from '@/lib/store/write/put-library'
import { withdrawRecord } from '@/lib/store/write/withdraw-record'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, partOf, TODAY, withLibrary } from './demo-fleet'
import { expectAsScored, storedScores } from './stored-scores'

const { database } = await testDatabase()
const fleet = demoFleet(6)
const nothing = partOf(fleet.records, () => false)
const BACK = new Date(NOW.getTime() - 2 * 86_400_000)
const organisation = await withLibrary(database, 'clock', fleet)
const scope = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')
const UNIT = fleet.records.vehicles[0]!.unit
const code = (ref: string, seenOn: number) => ({
  ...fleet.records.codes[0]!,
  ...{ unit: UNIT, code: 'P0302', seenOn, odometerKm: null, ref },
})
const refsOf = async () =>
  (await scope((at) => readVehicleRecords(at, UNIT))).flatMap(({ row }) => row.ref ?? [])

test('what is entered while the clock is behind is kept and scored, and undone; right again, scores are those of the records', async () => {
  await enterRecords(database, organisation, fleet.records, { now: NOW, by: null })
  await freshenScores(database, organisation, NOW)
  const before = await storedScores(database, organisation)

  // Behind, by a clock that says the day before yesterday.
  const entered = await enterRecords(
    database,
    organisation,
    { ...nothing, codes: [code('behind', TODAY - 2)] },
    { now: BACK, by: null },
  )
  expect(entered.counts.codes.accepted).toBe(1)
  expect(await refsOf()).toContain('behind')
  await freshenScores(database, organisation, BACK)
  expect(await freshenScores(database, organisation, BACK)).toBe(0)
  expect((await storedScores(database, organisation)).size).toBe(before.size)

  // A record dated after today by that clock was entered when it was right: it stays.
  const right = await enterRecords(
    database,
    organisation,
    { ...nothing, codes: [code('right', TODAY)] },
    { now: NOW, by: null },
  )
  expect(right.counts.codes.accepted).toBe(1)
  await freshenScores(database, organisation, NOW)
  await expectAsScored(database, organisation, fleet)

  const records = await scope((at) => readVehicleRecords(at, UNIT))
  const { id } = records.find(({ row }) => row.ref === 'right')!
  // Withdrawn by a clock that is behind its own entry.
  const withdrawn = await scope((at) => withdrawRecord(at, { kind: 'codes', id, now: BACK, by: null }))
  expect(withdrawn).toMatchObject({ ok: true, touched: [UNIT] })
  await freshenScores(database, organisation, NOW)
  await expectAsScored(database, organisation, fleet)
})

test('what is asked for is learned once, and a later library is the one in force, whatever the clock says', async () => {
  await scope((at) => askRefit(at, { by: null, now: NOW }))
  await refitWhenDue(database, organisation, () => BACK)
  const learned = await scope(readFitInForce)
  expect(learned).not.toBeNull()
  await refitWhenDue(database, organisation, () => NOW)
  expect(await scope(readFitInForce)).toEqual(learned)

  const content = JSON.stringify({ ...JSON.parse(fleet.content), name: 'the later one' })
  await scope((at) => putLibrary(at, { content, now: BACK }))
  expect(JSON.parse((await scope(readLibraryInForce))!.content).name).toBe('the later one')
})

test('the audit trail holds: its lines follow each other as they were written', async () => {
  const chain = await scope((at) => readAuditChain(at, null))
  expect(chain).toMatchObject({ ok: true })
  expect(chain.lines).toBeGreaterThan(5)
})
