/** The search for the fault of a vehicle, on the records that are entered: each result puts the rest in order anew. */
import { expect, test } from 'vitest'
import { readTypedComplaint } from '@/lib/intake/typed-complaint'
import { enterRecords } from '@/lib/jobs/enter-records'
import { type FaultSearched, vehicleFault } from '@/lib/jobs/find-fault'
import { faultUnrecorded } from '@/lib/jobs/find-fault-unrecorded'
import type { Records } from '@/lib/records/rows'
import { LATELY_DAYS, seenLately } from '@/lib/records/seen-lately'
import { groupByVehicle, type VehicleRecords } from '@/lib/records/vehicle-records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, partOf, TODAY, withLibrary } from './demo-fleet'

const { database } = await testDatabase()
const whole = demoFleet()
const familyOf = new Map(whole.library.families.map((family) => [family.key, family]))
const isOpen = ({ vehicle, ...records }: VehicleRecords) => {
  const family = familyOf.get(vehicle.family ?? '')
  return family !== undefined && seenLately(records, family, TODAY)
}
/** Some vehicles with a sign that nothing answered, and some others. */
const [open, others] = [
  groupByVehicle(whole.records).filter(isOpen),
  groupByVehicle(whole.records).slice(0, 4),
]
const some = new Set([...open.slice(0, 14), ...others].map(({ vehicle }) => vehicle.unit))
const fleet = { ...whole, records: partOf(whole.records, ({ unit }) => some.has(unit)) }
const organisation = await withLibrary(database, 'faults', fleet)
await enterRecords(database, organisation, fleet.records, { now: NOW, by: null })

const act = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')
const searchOn = async (unit: string, spendingLimit: number | null = null) =>
  (await act((scope) => vehicleFault(scope, { unit, spendingLimit }, NOW)))?.search ?? null

/** Vehicles on which something is to be looked for. */
const searches: { unit: string; search: FaultSearched }[] = []
for (const { unit } of fleet.records.vehicles) {
  const search = await searchOn(unit)
  if (search) searches.push({ unit, search })
}

test('every search has a next step, causes that sum to one, names and no worse a cost than the obvious order', () => {
  expect(searches.length).toBeGreaterThan(1)
  for (const { search } of searches) {
    const { causes, moves, expectedCost, obvious, saving } = search
    expect(search.seen.length).toBeGreaterThan(0)
    expect(causes.reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(1, 9)
    expect(causes.map(({ chance }) => chance)).toEqual(
      causes.map(({ chance }) => chance).sort((a, b) => b - a),
    )
    expect(moves[0]!.expectedCostFromHere).toBeCloseTo(expectedCost, 6)
    expect(saving).toBeCloseTo(obvious.expectedCost - expectedCost, 9)
    expect(saving).toBeGreaterThan(-1e-6)
    for (const { developing } of causes) expect(developing >= 0 && developing <= 1).toBe(true)
    for (const { weakPoint, name } of causes) expect(name).not.toBe(weakPoint)
    for (const { do: move } of moves)
      if (move.kind === 'look') expect(move.sign.label).not.toBe(move.sign.sign)
  }
})

test('a search is on only where a sign was seen lately', () => {
  const units = new Set(open.map(({ vehicle }) => vehicle.unit))
  expect(searches.map(({ unit }) => unit).filter((unit) => !units.has(unit))).toEqual([])
  expect(fleet.records.vehicles.some(({ unit }) => !units.has(unit))).toBe(true)
})

test('a sighting counts to the last of its days, and one of tomorrow does not', () => {
  const [family, check] = [fleet.library.families[0]!, fleet.records.checks[0]!]
  const seen = [{ sign: family.signs[0]!.key, position: null }]
  const seenOn = (day: number) => {
    return seenLately({ codes: [], repairs: [], checks: [{ ...check, seen, checkedOn: day }] }, family, TODAY)
  }
  expect([seenOn(TODAY), seenOn(TODAY - LATELY_DAYS)]).toEqual([true, true])
  expect([seenOn(TODAY - LATELY_DAYS - 1), seenOn(TODAY + 1)]).toEqual([false, false])
})

test('a limit below the next step stops at once, and one that holds all of them does not', async () => {
  const { unit, search } = searches.find(({ search }) => search.moves[0]!.cost > 1)!
  expect((await searchOn(unit, 0.5))!.stop).toEqual({ after: 0, why: 'limit' })
  const all = search.moves.reduce((sum, { cost }) => sum + cost, 0)
  expect((await searchOn(unit, all + 1))!.stop?.why).not.toBe('limit')
})

test('a look that found nothing is not asked again, and the rest is put in order anew', async () => {
  const found = searches.flatMap(({ unit, search }) =>
    search.moves.flatMap(({ do: move }) =>
      move.kind === 'look' && move.by !== 'code' ? [{ unit, search, ...move }] : [],
    ),
  )
  const { unit, search, sign, by } = found[0]!
  const at = { sign: sign.sign, position: sign.position }
  const check: Records['checks'][number] = {
    ...fleet.records.checks[0]!,
    ...{ unit, checkedOn: TODAY, kind: by as 'visual', seen: [], lookedFor: [at], odometerKm: null },
    ref: 'looked',
  }
  const records = { ...partOf(fleet.records, () => false), checks: [check] }
  await enterRecords(database, organisation, records, { now: NOW, by: null })
  const after = (await searchOn(unit))!
  const asked = after.moves.flatMap(({ do: move }) =>
    move.kind === 'look' && move.sign.sign === at.sign && move.sign.position === at.position ? [move] : [],
  )
  expect(asked).toEqual([])
  expect(after.causes.map(({ chance }) => chance)).not.toEqual(search.causes.map(({ chance }) => chance))
})

test('a part that is replaced answers the sign until it is seen again', async () => {
  const { unit, search } = searches.find(({ search }) => search.seen.length === 1)!
  const { weakPoint, position } = search.causes[0]!
  const repair: Records['repairs'][number] = {
    ...fleet.records.repairs[0]!,
    ...{ unit, weakPoint, positions: [position], doneOn: TODAY, action: 'renew', found: null },
    ...{ revision: null, odometerKm: null, ref: 'trial' },
  }
  const records = { ...partOf(fleet.records, () => false), repairs: [repair] }
  await enterRecords(database, organisation, records, { now: NOW, by: null })
  expect(await searchOn(unit)).toBeNull()
})

/** Two looks and a code of an engine, as somebody would say them on the telephone. */
function complaint(unit: string) {
  const [family] = fleet.library.families
  const [there, missing] = family!.signs.filter(({ kind, positions }) => kind !== 'code' && positions === 1)
  const said = {
    family: family!.key,
    odometer: '184000',
    seen: [there!.key],
    notSeen: [missing!.key],
    codes: '',
  }
  return readTypedComplaint(
    { ...said, unit },
    { families: fleet.library.families, today: TODAY, distance: 'km' },
  )
}

test('a vehicle without records is searched as it would be if it were kept, and nothing of it is stored', async () => {
  const asked = complaint('not kept')
  if (!asked.ok) throw new Error(asked.slips[0]?.message)
  const given = { records: asked.records, spendingLimit: null }
  const unrecorded = await act((scope) => faultUnrecorded(scope, given, NOW))
  expect(unrecorded?.search?.seen).toHaveLength(1)
  const count = await act(({ tx }) => tx.$queryRaw`select 1 from vehicles where unit = 'not kept'`)
  expect(count).toEqual([])
  const kept = complaint('KEPT-1')
  if (!kept.ok) throw new Error(kept.slips[0]?.message)
  await enterRecords(database, organisation, kept.records, { now: NOW, by: null })
  const found = await searchOn('KEPT-1')
  expect(found?.causes.map(({ weakPoint }) => weakPoint)).toEqual(
    unrecorded?.search?.causes.map(({ weakPoint }) => weakPoint),
  )
  found?.causes.forEach(({ chance }, i) => {
    expect(chance).toBeCloseTo(unrecorded!.search!.causes[i]!.chance, 3)
  })
})
