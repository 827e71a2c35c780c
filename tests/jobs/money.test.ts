/** Quarter and policies of an organisation: reckoned in the background, kept, and anew when there is reason to. */
import { expect, test } from 'vitest'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenMoney, type MoneyReport } from '@/lib/jobs/freshen-money'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { readMoneyReport } from '@/lib/store/read/money-report'
import { withOrganisation } from '@/lib/store/with-organisation'
import { readingRow, recordsOf } from '../simulation/record-rows'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, TODAY, withLibrary } from './demo-fleet'

const { database } = await testDatabase()
const fleet = demoFleet(6)
const organisation = await withLibrary(database, 'money', fleet)
const HOUR = 60 * 60_000
const later = (ms: number) => new Date(NOW.getTime() + ms)
const kept = async () =>
  (await withOrganisation(database, organisation, (scope) => readMoneyReport<MoneyReport>(scope)))?.content

await enterRecords(database, organisation, fleet.records, { now: NOW, by: null })

test('all vehicles are in the quarter, and every weak point has its policies', async () => {
  await freshenScores(database, organisation, NOW)
  expect(await freshenMoney(database, organisation, NOW)).toBe(true)
  const report = (await kept())!
  expect([report.asOf, report.quarter.vehicles + report.notAssessed]).toEqual([TODAY, 6])
  expect(report.quarter.total.failures.mean).toBeGreaterThan(0)
  expect(report.quarter.sites.reduce((sum, { vehicles }) => sum + vehicles, 0)).toBe(report.quarter.vehicles)
  const keys = (rows: readonly { family: string; weakPoint: string }[]) =>
    rows.map(({ family, weakPoint }) => `${family} ${weakPoint}`).sort()
  expect(keys(report.policies)).toEqual(keys(report.quarter.points))
  for (const { longRun, comingYears } of report.policies)
    expect(longRun?.map(({ policy }) => policy)).toEqual(comingYears?.map(({ policy }) => policy))
})

test('within a day it is reckoned at most once an hour where records have come; a new day waits for its scores', async () => {
  expect(await freshenMoney(database, organisation, later(2 * HOUR))).toBe(false)
  const [vehicle] = fleet.records.vehicles
  const reading = readingRow({ unit: vehicle!.unit, readOn: TODAY, odometerKm: 250_000 })
  const entered = recordsOf({ readings: [reading] })
  await enterRecords(database, organisation, entered, { now: later(60_000), by: null })
  await freshenScores(database, organisation, later(60_000))
  expect(await freshenMoney(database, organisation, later(HOUR / 2))).toBe(false)
  expect(await freshenMoney(database, organisation, later(HOUR))).toBe(true)
  const nextDay = later(24 * HOUR)
  // Scores come first.
  expect(await freshenMoney(database, organisation, nextDay)).toBe(false)
})
