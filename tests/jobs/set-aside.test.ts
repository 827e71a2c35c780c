/** What to set aside for a vehicle of an organisation: its sums, its terms, and what a dealer reads of it. */
import { expect, test } from 'vitest'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { type SetAsideAsked, USUAL_COVER, type VehicleSetAside, vehicleSetAside } from '@/lib/jobs/set-aside'
import { withOrganisation } from '@/lib/store/with-organisation'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, TODAY, withLibrary } from './demo-fleet'

const { database } = await testDatabase()
const fleet = demoFleet(8)
const [covered, worthless, ...others] = fleet.records.vehicles
const grades = [
  { word: 'as usual', upTo: 0.1 },
  { word: 'keep off', upTo: null },
]
const sold = {
  ...{ status: 'sold' as const, leftOn: TODAY - 30, soldOn: TODAY - 30 },
  ...{ coverUntilOn: TODAY + 200, coverUntilKm: 9_000_000 },
}
const settings = { ...fleet.records.settings, grades }
const vehicles = [
  { ...covered!, ...sold, value: 10_000 },
  { ...worthless!, value: null },
  ...others.map((each) => ({ ...each, value: 5_000 })),
]
const records = { ...fleet.records, settings, vehicles }
const organisation = await withLibrary(database, 'set aside', { ...fleet, records })
await enterRecords(database, organisation, records, { now: NOW, by: null })
await freshenScores(database, organisation, NOW)

const usual: Omit<SetAsideAsked, 'unit'> = { cover: null, excluded: [], claimLimit: null }
const asideOf = (unit: string, asked: Partial<SetAsideAsked> = {}) =>
  withOrganisation(database, organisation, (scope) =>
    vehicleSetAside(scope, { ...usual, unit, ...asked }, NOW),
  )

const all: { unit: string; aside: VehicleSetAside }[] = []
for (const { unit } of vehicles) {
  const aside = await asideOf(unit)
  if (aside) all.push({ unit, aside })
}
const dearest = all.reduce((a, b) => (b.aside.amounts.mean > a.aside.amounts.mean ? b : a))

test('the means of the weak points sum to the mean of the whole, and the classes to certainty', () => {
  expect(all.length).toBeGreaterThan(3)
  for (const { aside } of all) {
    const { amounts, points, classes } = aside
    expect(points.reduce((sum, { mean }) => sum + mean, 0)).toBeCloseTo(amounts.mean, 6)
    expect(points.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9)
    expect(points.map(({ mean }) => mean)).toEqual(points.map(({ mean }) => mean).sort((a, b) => b - a))
    expect(classes.reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(1, 6)
    expect(classes.every(({ chance }) => chance >= 0)).toBe(true)
    expect(amounts.meanOfUnknownHistory).toBeLessThanOrEqual(amounts.mean + 1e-9)
  }
})

test('the classes hold what the amounts say: half, four of five, nineteen of twenty', () => {
  for (const { aside } of all) {
    const { p50, p80, p95 } = aside.amounts
    for (const [level, amount] of [
      [0.5, p50],
      [0.8, p80],
      [0.95, p95],
    ] as const) {
      const whole = aside.classes.filter(({ upTo }) => upTo !== null && upTo < amount)
      const reached = aside.classes.filter(({ from, upTo }) => from < amount || upTo === 0)
      const sum = (classes: typeof whole) => classes.reduce((total, { chance }) => total + chance, 0)
      expect(sum(whole)).toBeLessThan(level)
      expect(sum(reached)).toBeGreaterThan(level - 1e-9)
    }
  }
})

test('a weak point that is left out adds nothing', async () => {
  const { unit, aside } = dearest
  const [first, ...rest] = aside.points
  const without = (await asideOf(unit, { excluded: [first!.weakPoint] }))!
  expect(without.amounts.mean).toBeCloseTo(aside.amounts.mean - first!.mean, 6)
  expect(without.points.map(({ weakPoint }) => weakPoint)).toEqual(rest.map(({ weakPoint }) => weakPoint))
  expect(without.choices.filter(({ excluded }) => excluded)).toEqual([
    { weakPoint: first!.weakPoint, name: first!.name, excluded: true },
  ])
  expect(without.choices).toHaveLength(aside.points.length)
  const none = (await asideOf(unit, { excluded: aside.points.map(({ weakPoint }) => weakPoint) }))!
  expect([none.amounts.p95, none.amounts.mean]).toEqual([0, 0])
  expect(none.classes[0]!.chance).toBeCloseTo(1, 9)
})

test('a limit caps what a failure costs, and a wide one nothing', async () => {
  const { unit, aside } = dearest
  const capped = (await asideOf(unit, { claimLimit: 50 }))!
  for (const { weakPoint, mean } of capped.points)
    expect(mean).toBeLessThanOrEqual(aside.points.find((each) => each.weakPoint === weakPoint)!.mean + 1e-9)
  expect(capped.amounts.mean).toBeLessThan(aside.amounts.mean)
  expect((await asideOf(unit, { claimLimit: 1e9 }))!.amounts).toEqual(aside.amounts)
})

test('the cover is what is asked, else what is left of the vehicle’s own, else the usual', async () => {
  const own = await asideOf(covered!.unit)
  expect(own).toMatchObject({ coverOf: 'vehicle', cover: { days: 200 } })
  expect(own!.cover.km).toBeLessThan(9_000_000)
  expect(await asideOf(worthless!.unit)).toMatchObject({ coverOf: 'usual', cover: USUAL_COVER })
  const short = await asideOf(covered!.unit, { cover: { days: 20, km: null } })
  expect(short).toMatchObject({ coverOf: 'asked', cover: { days: 20, km: null } })
  expect(short!.amounts.mean).toBeLessThan(own!.amounts.mean)
})

test('the amount is a share of the value, in the organisation’s own word; without a value neither', async () => {
  const own = (await asideOf(covered!.unit))!
  expect(own.shareOfValue).toBe(own.amounts.p80 / 10_000)
  expect(own.grade).toBe(own.shareOfValue! <= 0.1 ? 'as usual' : 'keep off')
  expect(await asideOf(worthless!.unit)).toMatchObject({ value: null, shareOfValue: null, grade: null })
})

test('a vehicle that is not there has nothing to set aside', async () => {
  expect(await asideOf('no such vehicle')).toBeNull()
})
