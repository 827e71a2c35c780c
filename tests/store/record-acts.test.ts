import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { ReadingRow } from '@/lib/records/rows'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import type { EntryCounts } from '@/lib/store/entry'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readRecords } from '@/lib/store/read/records'
import { liveRecordsOf, readVehicleRecords } from '@/lib/store/read/vehicle-records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords, countInParts } from '@/lib/store/write/add-records'
import { correctRecord } from '@/lib/store/write/correct-record'
import { restoreRecord } from '@/lib/store/write/restore-record'
import { undoCorrection } from '@/lib/store/write/undo-correction'
import { withdrawRecord } from '@/lib/store/write/withdraw-record'
import { runs } from '../runs'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { testDatabase } from './test-database'

const { database } = await testDatabase()

const UNITS = ['B-10', 'B-2']
const [READING] = EXAMPLE.readings
const NO_RECORDS = { vehicles: [], readings: [], codes: [], checks: [], repairs: [], changes: [] }

/** What a reading says, as far as the acts below vary it. */
type Contents = { unit: string; ref: string | null; km: number }

const rowOf = ({ unit, ref, km }: Contents): ReadingRow => ({ ...READING!, unit, ref, odometerKm: km })
const contentsOf = ({ unit, ref, odometerKm }: ReadingRow): Contents => ({ unit, ref, km: odometerKm })
const same = (a: Contents, b: Contents) => a.unit === b.unit && a.ref === b.ref && a.km === b.km

/** One version of a record in memory: `parent` is the version that it came in the place of. */
type Version = {
  id: string | null
  contents: Contents
  standsFor: Contents | null
  parent: Version | null
  withdrawn: boolean
}
type Place = { versions: Version[]; live: Version | null }

/** The store, as plainly as it can be said: places in the order of arrival, each with at most one live version. */
class Memory {
  readonly places: Place[] = []

  versions = () => this.places.flatMap((place) => place.versions.map((version) => ({ place, version })))
  live = (): Contents[] => this.places.flatMap(({ live }) => live?.contents ?? [])

  add(rows: Contents[]): void {
    const distinct = new Map(rows.map((row) => [row.ref ?? JSON.stringify(row), row]))
    const lives = this.places.flatMap(({ live }) => live ?? [])
    const known = (row: Contents) =>
      lives.some((live) => same(live.contents, row) || (live.standsFor && same(live.standsFor, row)))
    for (const contents of [...distinct.values()].filter((row) => !known(row))) {
      const version = { id: null, contents, standsFor: null, parent: null, withdrawn: false }
      const { ref } = contents
      const earlier = this.places.find(({ live }) => ref !== null && live?.contents.ref === ref)
      if (earlier) this.put(earlier, { ...version, parent: earlier.live })
      else this.places.push({ versions: [version], live: version })
    }
  }

  withdraw(place: Place, version: Version): string {
    if (place.live !== version) return 'not-live'
    version.withdrawn = true
    place.live = null
    return 'ok'
  }

  restore(place: Place, version: Version): string {
    if (!version.withdrawn) return 'not-withdrawn'
    if (this.clashes(place, version.contents)) return 'same-as-another'
    return this.enliven(place, version)
  }

  correct(place: Place, version: Version, contents: Contents): string {
    if (place.live !== version) return 'not-live'
    if (same(version.contents, contents)) return 'ok'
    if (this.clashes(place, contents)) return 'same-as-another'
    const standsFor = version.standsFor ?? version.contents
    return this.put(place, { id: null, contents, standsFor, parent: version, withdrawn: false })
  }

  undo(place: Place, version: Version): string {
    if (place.live !== version) return 'not-live'
    if (version.parent === null) return 'not-a-correction'
    if (this.clashes(place, version.parent.contents)) return 'same-as-another'
    version.withdrawn = true
    return this.enliven(place, version.parent)
  }

  private put(place: Place, version: Version): string {
    place.versions.push(version)
    place.live = version
    return 'ok'
  }

  private enliven(place: Place, version: Version): string {
    version.withdrawn = false
    place.live = version
    return 'ok'
  }

  private clashes(place: Place, { ref, ...rest }: Contents): boolean {
    const others = this.places.flatMap((each) => (each === place || !each.live ? [] : each.live.contents))
    return others.some((other) => same(other, { ref, ...rest }) || (ref !== null && other.ref === ref))
  }
}

const contents = fc.record({
  unit: fc.constantFrom(...UNITS),
  ref: fc.constantFrom(null, null, 'r1', 'r2'),
  km: fc.constantFrom(1, 2, 3),
})
const which = fc.nat(1000)
type Act =
  | { act: 'add'; rows: Contents[] }
  | { act: 'withdraw' | 'restore' | 'undo' | 'correct'; which: number; contents: Contents }
const act: fc.Arbitrary<Act> = fc.oneof(
  fc.record({ act: fc.constant('add' as const), rows: fc.array(contents, { maxLength: 3 }) }),
  fc.record({ act: fc.constantFrom('withdraw', 'restore', 'undo', 'correct'), which, contents }),
)

/** The same act in memory and in the store; both answer alike. */
async function actOnBoth(memory: Memory, organisation: OrganisationId, one: Act, now: Date): Promise<void> {
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  if (one.act === 'add') {
    memory.add(one.rows)
    const records = { ...NO_RECORDS, readings: one.rows.map(rowOf) }
    const unnamed = one.rows.every(({ ref }) => ref === null)
    const told = unnamed ? await write((scope) => countOf(scope, records.readings)) : null
    const { counts } = await write((scope) => addRecords(scope, records, { now, by: null }))
    if (told !== null) expect(told).toEqual(counts.readings)
    return
  }
  const all = memory.versions()
  const chosen = all[one.which % Math.max(1, all.length)]
  if (!chosen) return
  const { place, version } = chosen
  const on = { kind: 'readings' as const, id: `${version.id}`, now, by: null }
  const acts = {
    withdraw: [
      () => memory.withdraw(place, version),
      (scope: OrganisationScope) => withdrawRecord(scope, on),
    ],
    restore: [() => memory.restore(place, version), (scope: OrganisationScope) => restoreRecord(scope, on)],
    undo: [() => memory.undo(place, version), (scope: OrganisationScope) => undoCorrection(scope, on)],
    correct: [
      () => memory.correct(place, version, one.contents),
      (scope: OrganisationScope) => correctRecord(scope, { ...on, row: rowOf(one.contents) }),
    ],
  } as const
  const [inMemory, inStore] = acts[one.act]
  const result = await write(inStore)
  expect(result.ok ? 'ok' : result.reason).toBe(inMemory())
}

/** What adding rows would do, row by row. */
async function countOf(scope: OrganisationScope, rows: ReadingRow[]): Promise<EntryCounts> {
  const sum = { accepted: 0, unchanged: 0, superseded: 0 }
  const parts = rows.map((row) => ({ ...NO_RECORDS, readings: [row] }))
  await countInParts(scope, parts, async ({ counts: { readings } }) => {
    for (const name of ['accepted', 'unchanged', 'superseded'] as const) sum[name] += readings[name]
  })
  return sum
}

/** Every version in the store; those that are new get their id in memory. */
async function versionsOnBoth(memory: Memory, organisation: OrganisationId) {
  const stored = await withOrganisation(database, organisation, async (scope) => [
    ...(await readVehicleRecords(scope, 'B-10')),
    ...(await readVehicleRecords(scope, 'B-2')),
  ])
  const versions = memory.versions().map(({ version }) => version)
  const known = new Set(versions.map(({ id }) => id))
  for (const { id, kind, row } of stored) {
    if (kind !== 'readings' || known.has(id)) continue
    const made = versions.find((version) => version.id === null && same(version.contents, contentsOf(row)))
    expect(made).toBeDefined()
    if (made) made.id = id
  }
  return stored
}

test('whatever is added, corrected, withdrawn and undone, the live records are those of a plain list in memory', async () => {
  let organisations = 0
  const acts = fc.array(act, { minLength: 1, maxLength: 12 })
  await fc.assert(
    fc.asyncProperty(acts, async (done) => {
      const organisation = await anOrganisation(database, `acts ${organisations++}`)
      const vehicles = { ...NO_RECORDS, vehicles: EXAMPLE.vehicles }
      await withOrganisation(
        database,
        organisation,
        (scope) => addRecords(scope, vehicles, { now: NOW, by: null }),
        'write',
      )
      const memory = new Memory()
      for (const [i, one] of done.entries()) {
        await actOnBoth(memory, organisation, one, new Date(NOW.getTime() + 1000 * i))
        const stored = await versionsOnBoth(memory, organisation)
        expect(stored).toHaveLength(memory.versions().length)
        const records = await withOrganisation(database, organisation, (scope) => readRecords(scope))
        expect(records.readings.map(contentsOf)).toEqual(memory.live())
        for (const vehicle of groupByVehicle(records)) {
          const { unit } = vehicle.vehicle
          const versions = stored.filter(({ row }) => row.unit === unit)
          expect(liveRecordsOf(vehicle.vehicle, versions)).toEqual(vehicle)
        }
      }
    }),
    { numRuns: runs(25) },
  )
}, 600_000)
