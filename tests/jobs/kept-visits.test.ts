/** What could be done on a visit is kept with the score that it rests on, and told for nothing else. */
import { expect, test } from 'vitest'
import { visitChoice } from '@/lib/decisions/visit-choice'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { scorerOn } from '@/lib/jobs/inner/scorer-on'
import { nextVisit, visitAmong } from '@/lib/jobs/next-visit'
import { readKeptVisits } from '@/lib/store/read/kept-visits'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { runSql, testDatabase } from '../store/test-database'
import { demoFleet, NOW, partOf, TODAY, withLibrary } from './demo-fleet'

const { database, adminUrl } = await testDatabase()
const fleet = demoFleet(30)
const organisation = await withLibrary(database, 'kept-visits', fleet)
const units = fleet.records.vehicles.map(({ unit }) => unit)
const entry = { now: NOW, by: null }
await withOrganisation(database, organisation, (scope) => addRecords(scope, fleet.records, entry), 'write')
await freshenScores(database, organisation, NOW)

/** @returns what is kept of each vehicle, and what is reckoned now */
const keptAndReckoned = () =>
  withOrganisation(database, organisation, async (scope) => {
    const ground = (await readScoringGround(scope, NOW))!
    const scorer = await scorerOn(scope, ground)
    const both = []
    for (const { unit, visit } of await readKeptVisits(scope, ground, units))
      both.push({ unit, kept: visit, reckoned: visitChoice(await scorer.groundOf(scope, unit)) })
    return both
  })

test('it is what would be reckoned now, number for number', async () => {
  const both = await keptAndReckoned()
  const scored = both.filter(({ kept }) => kept !== null)
  expect(scored.length).toBeGreaterThan(20)
  for (const { unit, kept, reckoned } of scored) expect(kept, unit).toEqual(reckoned)
  expect(scored.some(({ kept }) => (kept?.candidates ?? []).length > 1)).toBe(true)
})

test('after a new record nothing is told from before it, until its vehicle is scored', async () => {
  const { unit } = (await keptAndReckoned()).find(({ kept }) => (kept?.candidates ?? []).length > 1)!
  const { odometerKm } = fleet.records.readings.findLast((reading) => reading.unit === unit)!
  const reading = { ...fleet.records.readings[0]!, unit, readOn: TODAY, odometerKm: odometerKm + 900 }
  const records = { ...partOf(fleet.records, () => false), readings: [{ ...reading, ref: 'since' }] }
  const before = (await keptAndReckoned()).find((each) => each.unit === unit)!
  await withOrganisation(database, organisation, (scope) => addRecords(scope, records, entry), 'write')
  const stale = (await keptAndReckoned()).find((each) => each.unit === unit)!
  expect(stale.kept).toBeNull()
  expect(stale.reckoned).not.toEqual(before.reckoned)
  const asked = await withOrganisation(database, organisation, (scope) =>
    nextVisit(scope, { unit, hereNow: false, hoursFree: null }, NOW),
  )
  if (stale.reckoned.candidates === null) throw new Error('It was assessed before')
  expect(asked).toEqual(visitAmong(stale.reckoned, { hereNow: false, hoursFree: null }, null))
  await freshenScores(database, organisation, NOW)
  const fresh = (await keptAndReckoned()).find((each) => each.unit === unit)!
  expect(fresh.kept).toEqual(stale.reckoned)
})

test('what is kept is what the page tells: no vehicle is followed again for it', async () => {
  const { unit } = (await keptAndReckoned()).find(({ kept }) => (kept?.candidates ?? []).length > 1)!
  await runSql(
    adminUrl,
    `update vehicle_scores set visit = jsonb_set(visit, '{candidates,0,gain}', '123456.75')
     where unit = '${unit}' and visit is not null`,
  )
  const asked = await withOrganisation(database, organisation, (scope) =>
    nextVisit(scope, { unit, hereNow: true, hoursFree: null }, NOW),
  )
  expect(asked!.jobs.flatMap(({ members }) => members.map(({ gain }) => gain))).toContain(123_456.75)
})
