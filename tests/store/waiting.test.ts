import { expect, test } from 'vitest'
import type { Records } from '@/lib/records/rows'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addInParts, addRecords } from '@/lib/store/write/add-records'
import { noteUsageFacts } from '@/lib/store/write/note-usage'
import { putTerms } from '@/lib/store/write/put-terms'
import { replaceScores } from '@/lib/store/write/replace-scores'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { EXAMPLE_LIBRARY } from './example-scores'
import { testDatabase } from './test-database'

const { database } = await testDatabase()
const NOTHING: Records = {
  ...EXAMPLE,
  vehicles: [],
  readings: [],
  codes: [],
  checks: [],
  repairs: [],
  changes: [],
}
const VEHICLES = 60
const ROUNDS = 40

/** A fixed shuffle for each k: the order in which a file happens to name its vehicles. */
const shuffled = <Each>(list: readonly Each[], k: number): Each[] =>
  list.toSorted((a, b) => Math.sin(list.indexOf(a) * 97 + k * 13) - Math.sin(list.indexOf(b) * 97 + k * 13))

test('rows going in, scores, use and settings wait for each other, and never in a circle', async () => {
  const organisation = await anOrganisation(database, 'In turns')
  const write = (work: (scope: OrganisationScope) => Promise<unknown>) =>
    withOrganisation(database, organisation, work, 'write')
  const [vehicle] = EXAMPLE.vehicles
  const [reading] = EXAMPLE.readings
  if (!vehicle || !reading) throw new Error('There is no example')
  const vehicles = Array.from({ length: VEHICLES }, (_, k) => ({ ...vehicle, unit: `T-${k}` }))
  await write((scope) => addRecords(scope, { ...NOTHING, vehicles }, { now: NOW, by: null }))

  const readings = (k: number, from: number, to: number) => ({
    ...NOTHING,
    readings: shuffled(vehicles, k)
      .slice(from, to)
      .map(({ unit }, place) => ({
        ...reading,
        unit,
        odometerKm: 1000 * k + from + place,
        readOn: 18_000 + k,
      })),
  })
  const half = VEHICLES / 2
  const entry = { now: NOW, by: null }
  let took = 0
  const acts: ((k: number) => Promise<unknown>)[] = [
    (k) =>
      write(async (scope) => {
        const parts = [readings(k, 0, half), readings(k, half, VEHICLES)]
        await addInParts(scope, parts, entry, async ({ counts }) => {
          took += counts.readings.accepted
        })
      }),
    (k) =>
      write((scope) =>
        noteUsageFacts(
          scope,
          20_000,
          shuffled(vehicles, k + 1).map(({ unit }) => ({ unit, recordsVersion: 1n, facts: null })),
        ),
      ),
    (k) =>
      write((scope) =>
        replaceScores(
          scope,
          {
            asOf: 20_000,
            vehicles: shuffled(vehicles, k + 2).map(({ unit }) => ({ unit, failure: 'only a test' })),
          },
          {
            vehicles: shuffled(vehicles, k + 3),
            library: EXAMPLE_LIBRARY,
            libraryVersion: 1,
            scoredAt: NOW,
          },
        ),
      ),
    (k) => write((scope) => putTerms(scope, { name: 'In turns', settings: { labourRate: 60 + k } })),
  ]
  // Each act round after round, none waiting for the others: one that is stopped in a circle throws.
  await Promise.all(
    acts.map(async (act) => {
      for (let k = 0; k < ROUNDS; k++) await act(k)
    }),
  )
  expect(took).toBe(ROUNDS * VEHICLES)
})
