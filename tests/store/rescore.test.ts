import { expect, test } from 'vitest'
import { scoreFleet } from '@/lib/decisions/score-fleet'
import { readFiles } from '@/lib/intake/read-files'
import { rescoreOrganisation } from '@/lib/jobs/rescore-organisation'
import { parseLibrary } from '@/lib/records/library'
import type { Records } from '@/lib/records/rows'
import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'
import { readVehicleComponents } from '@/lib/store/read/vehicle-components'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { putLibrary } from '@/lib/store/write/put-library'
import { parseDay } from '@/lib/units/dates'
import { makeDemos } from '@/seed/demo'
import { anOrganisation } from './example-records'
import { testDatabase } from './test-database'

const { database } = await testDatabase()
const NOW = new Date('2026-03-01T12:00:00Z')
const TODAY = parseDay('2026-03-01')!

/** The demo's library, and the records of its first vehicles. */
function someOfTheDemo(vehicles: number) {
  const demo = makeDemos({ today: TODAY })[0]!
  const parsed = parseLibrary(demo.libraryJson)
  if (!parsed.ok) throw new Error('The demo’s library is not valid')
  const { records } = readFiles(demo.files, parsed.library, TODAY)
  const kept = new Set(records.vehicles.slice(0, vehicles).map(({ unit }) => unit))
  const of = <Row extends { unit: string }>(rows: Row[]) => rows.filter(({ unit }) => kept.has(unit))
  const some: Records = {
    vehicles: of(records.vehicles),
    readings: of(records.readings),
    codes: of(records.codes),
    checks: of(records.checks),
    repairs: of(records.repairs),
    changes: of(records.changes),
    settings: { ...records.settings, timeZone: 'UTC' },
  }
  return { content: demo.libraryJson, library: parsed.library, records: some }
}

test('stored scores are those of the same records scored without a store, to the last digit', async () => {
  const { content, library, records } = someOfTheDemo(12)
  const organisation = await anOrganisation(database, 'rescored')
  await withOrganisation(
    database,
    organisation,
    async (scope) => {
      await putLibrary(scope, { content, now: NOW })
      await addRecords(scope, records, { now: NOW, by: null })
      await scope.tx
        .$executeRaw`update organisations set settings = ${JSON.stringify(records.settings)}::jsonb
        where id = ${organisation}::uuid`
    },
    'write',
  )
  const horizons = STORED_HORIZONS_DAYS.map((days) => ({ days }))
  const direct = scoreFleet({ records, library, asOf: TODAY, horizons })
  expect(await rescoreOrganisation(database, organisation, NOW)).toBe(direct.vehicles.length)

  let compared = 0
  for (const { unit, components } of direct.vehicles)
    for (const horizonDays of STORED_HORIZONS_DAYS) {
      const stored = await withOrganisation(database, organisation, (scope) =>
        readVehicleComponents(scope, unit, horizonDays),
      )
      const key = (each: { weakPoint: string; position: number }) => `${each.weakPoint}@${each.position}`
      const found = new Map(stored.map((each) => [key(each), each]))
      const expected = components.filter((each) => each.horizonDays === horizonDays)
      expect(found.size).toBe(expected.length)
      for (const { unit: _, asOf: __, horizonDays: ___, horizonKm: ____, ...score } of expected)
        expect(found.get(key(score))).toMatchObject(score)
      compared += expected.length
    }
  expect(compared).toBeGreaterThan(200)
})
