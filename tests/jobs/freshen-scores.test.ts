import { expect, test, vi } from 'vitest'
import { VehicleScorer } from '@/lib/decisions/score-fleet'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import type { Records } from '@/lib/records/rows'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readRescoring } from '@/lib/store/read/rescoring'
import { readVehicleHead } from '@/lib/store/read/vehicle-head'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { putLibrary } from '@/lib/store/write/put-library'
import { beginRescoring } from '@/lib/store/write/rescoring-job'
import { listenToLog } from '../log/logged'
import { randomFrom } from '../records/odometer-records'
import { runSql, testDatabase } from '../store/test-database'
import { demoFleet, NOW, partOf, withLibrary } from './demo-fleet'
import { expectAsScored, storedScores } from './stored-scores'

const { database, adminUrl } = await testDatabase()
const large = demoFleet(30)
const fleet = { ...large, records: firstOf(large.records, 8) }

const add = (organisation: OrganisationId, records: Records) =>
  withOrganisation(
    database,
    organisation,
    (scope) => addRecords(scope, records, { now: NOW, by: null }),
    'write',
  )

/** The records of the first vehicles. */
function firstOf(records: Records, count: number): Records {
  const units = new Set(records.vehicles.slice(0, count).map(({ unit }) => unit))
  return partOf(records, ({ unit }) => units.has(unit))
}

test('before it scores what came in, the server knows how much that is', async () => {
  const organisation = await withLibrary(database, 'first rows', fleet)
  await add(organisation, fleet.records)
  await freshenScores(database, organisation, NOW)
  const [readings] = await runSql(adminUrl, `select reltuples from pg_class where relname = 'readings'`)
  expect(readings?.reltuples).toBeGreaterThan(0)
})

/** Scoring takes its time on a machine that has other work. */
const PATIENCE_MS = 300_000

/** Each record falls to one of so many steps; a vehicle comes with the first of its records. */
function inSteps(records: Records, steps: number, seed: number): Records[] {
  const random = randomFrom(seed)
  const parts = Array.from({ length: steps }, () => partOf(records, () => false))
  for (const kind of ['readings', 'codes', 'checks', 'repairs', 'changes'] as const)
    for (const row of records[kind]) {
      const part = parts[Math.floor(random.uniform() * steps)]
      const list: (typeof row)[] = part?.[kind] ?? []
      list.push(row)
    }
  const there = new Set<string>()
  for (const part of parts) {
    const units = new Set(
      [...part.readings, ...part.codes, ...part.checks, ...part.repairs, ...part.changes].map(
        (row) => row.unit,
      ),
    )
    part.vehicles = records.vehicles.filter(({ unit }) => units.has(unit) && !there.has(unit))
    for (const { unit } of part.vehicles) there.add(unit)
  }
  return parts
}

test(
  'a fleet that comes in five steps, in any order, scored after any of them, is scored as without a store',
  async () => {
    for (const seed of [1, 2]) {
      const organisation = await withLibrary(database, `steps ${seed}`, fleet)
      const order = randomFrom(seed + 100)
      for (const step of inSteps(fleet.records, 5, seed)) {
        await add(organisation, step)
        if (order.uniform() < 0.5) await freshenScores(database, organisation, NOW)
      }
      await freshenScores(database, organisation, NOW)
      expect(await expectAsScored(database, organisation, fleet)).toBeGreaterThan(500)
    }
  },
  PATIENCE_MS,
)

test(
  'what is not stale is not scored again; a library, a day and a setting make all stale, a record its vehicle',
  async () => {
    const organisation = await withLibrary(database, 'stale', fleet)
    const { units } = await add(organisation, fleet.records).then(({ touched }) => ({
      units: touched.length,
    }))
    const freshen = (now = NOW) => freshenScores(database, organisation, now)
    expect(await freshen()).toBe(units)
    expect(await freshen()).toBe(0)

    const [vehicle] = fleet.records.vehicles
    const [code] = fleet.records.codes
    const one = {
      ...partOf(fleet.records, () => false),
      codes: [{ ...code!, unit: vehicle!.unit, odometerKm: null, ref: 'new' }],
    }
    await add(organisation, one)
    expect(await freshen()).toBe(1)

    await withOrganisation(
      database,
      organisation,
      (scope) => putLibrary(scope, { content: fleet.content, now: NOW }),
      'write',
    )
    expect(await freshen()).toBe(units)
    await withOrganisation(
      database,
      organisation,
      ({ tx }) => tx.$executeRaw`update organisations set settings = jsonb_set(settings, '{stopLimit}', '0.2')
      where id = ${organisation}::uuid`,
      'write',
    )
    expect(await freshen()).toBe(units)
    const tomorrow = new Date(NOW.getTime() + 86_400_000)
    expect(await freshen(tomorrow)).toBe(units)
    expect(await freshen(tomorrow)).toBe(0)
  },
  PATIENCE_MS,
)

test(
  'what is cut short is done by the next, and two at once do it once',
  async () => {
    const organisation = await withLibrary(database, 'cut short', large)
    await add(organisation, large.records)
    const far = () => withOrganisation(database, organisation, (scope) => readRescoring(scope, NOW))
    expect(await far()).toEqual({ done: 0, total: 30 })
    const cut = freshenScores(database, organisation, NOW, async (_, total) => {
      await withOrganisation(
        database,
        organisation,
        (scope) => beginRescoring(scope, { total, now: NOW }),
        'write',
      )
      throw new Error('killed')
    })
    await expect(cut).rejects.toThrow('killed')
    expect(await far()).toEqual({ done: 25, total: 30 })
    const both = await Promise.all([1, 2].map(() => freshenScores(database, organisation, NOW)))
    expect(both[0]! + both[1]!).toBe(5)
    expect(await far()).toBe(null)
    await expectAsScored(database, organisation, large)
  },
  PATIENCE_MS,
)

test(
  'a vehicle that cannot be scored says why, keeps no other waiting, and is tried again when its records change',
  async () => {
    const organisation = await withLibrary(database, 'one fails', fleet)
    await add(organisation, fleet.records)
    const { unit } = fleet.records.vehicles[2]!
    const headOf = (of: string) =>
      withOrganisation(database, organisation, (scope) => readVehicleHead(scope, of, 90))

    const log = listenToLog()
    const { scoreOnGround } = VehicleScorer.prototype
    const failing = vi.spyOn(VehicleScorer.prototype, 'scoreOnGround').mockImplementation(function (
      this: VehicleScorer,
      ...given
    ) {
      if (given[0].records.vehicle.unit === unit) throw new Error('a number was none')
      return scoreOnGround.apply(this, given)
    })
    expect(await freshenScores(database, organisation, NOW)).toBe(8)
    expect(await freshenScores(database, organisation, NOW)).toBe(0)
    expect(log.events()).toMatchObject([{ event: 'vehicle not scored', organisation, error: 'Error' }])
    expect(log.text()).not.toMatch(new RegExp(`${unit}|a number was none`))
    failing.mockRestore()
    log.stop()

    const failed = {
      standing: 'not-assessed',
      speaks: 'could not be scored: a number was none',
      combined: null,
    }
    expect((await headOf(unit))?.score).toMatchObject(failed)
    const scored = new Set(
      [...(await storedScores(database, organisation)).values()].map((each) => each.unit),
    )
    expect(scored).toEqual(
      new Set(fleet.records.vehicles.map((each) => each.unit).filter((each) => each !== unit)),
    )

    const reading = fleet.records.readings.find((each) => each.unit === unit)!
    const another = { ...partOf(fleet.records, () => false), readings: [{ ...reading, ref: 'again' }] }
    await add(organisation, another)
    expect(await freshenScores(database, organisation, NOW)).toBe(1)
    expect((await headOf(unit))?.score?.standing).not.toBe('not-assessed')
    await expectAsScored(database, organisation, fleet)
  },
  PATIENCE_MS,
)
