/** The next visits of a whole fleet: each the one that its vehicle's page tells, worked out once. */
import { expect, test } from 'vitest'
import { enterRecords } from '@/lib/jobs/enter-records'
import { fleetVisits, workOutVisits } from '@/lib/jobs/fleet-visits'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { nextVisit } from '@/lib/jobs/next-visit'
import { withOrganisation } from '@/lib/store/with-organisation'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, partOf, TODAY, withLibrary } from './demo-fleet'

const { database } = await testDatabase()
const fleet = demoFleet(30)
const organisation = await withLibrary(database, 'fleet-visits', fleet)
const other = await withLibrary(database, 'other-visits', fleet)
await enterRecords(database, organisation, fleet.records, { now: NOW, by: null })
await freshenScores(database, organisation, NOW)
const ask = () => fleetVisits(database, organisation, NOW)

test('the visits of a fleet are those of its vehicles, and who asks again is answered from what is kept', async () => {
  await workOutVisits(database, organisation, NOW)
  const found = await ask()
  expect(found!.done).toBe(found!.total)
  expect(found!.asOf).toBe(TODAY)
  expect(found!.visits.length).toBeGreaterThan(1)
  for (const { unit, hours, saving, jobs } of found!.visits) {
    const alone = await withOrganisation(database, organisation, (scope) =>
      nextVisit(scope, { unit, hereNow: false, hoursFree: null }, NOW),
    )
    expect([unit, hours, saving, jobs.map(({ weakPoint }) => weakPoint)]).toEqual([
      ...[unit, alone!.hours, alone!.saving, alone!.jobs.map(({ weakPoint }) => weakPoint)],
    ])
  }
  const again = await ask()
  expect(again!.visits.map(({ jobs }) => jobs)).toEqual(found!.visits.map(({ jobs }) => jobs))
  again!.visits.forEach(({ jobs }, i) => {
    expect(jobs).toBe(found!.visits[i]!.jobs)
  })
})

test('a new record leaves its vehicle to be worked out, and the others as they are', async () => {
  const { unit } = (await ask())!.visits[0]!
  const { odometerKm } = fleet.records.readings.findLast((reading) => reading.unit === unit)!
  const reading = {
    ...fleet.records.readings[0]!,
    unit,
    readOn: TODAY,
    odometerKm: odometerKm + 10,
    ref: 'new',
  }
  await enterRecords(
    database,
    organisation,
    { ...partOf(fleet.records, () => false), readings: [reading] },
    { now: NOW, by: null },
  )
  await workOutVisits(database, organisation, NOW)
  expect((await ask())!.done).toBe((await ask())!.total)
})

test('another organisation has none of them', async () => {
  expect(await fleetVisits(database, other, NOW)).toEqual({ asOf: TODAY, visits: [], done: 0, total: 0 })
})
