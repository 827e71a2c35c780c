/** What is set aside for the whole lot: kept, told from what it rests on, and against what was paid. */
import { expect, test } from 'vitest'
import { vehicleBeforeSale } from '@/lib/jobs/before-sale'
import { vehicleBid } from '@/lib/jobs/bid'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { freshenStock, type StockLot } from '@/lib/jobs/freshen-stock'
import { vehicleSetAside } from '@/lib/jobs/set-aside'
import { readCoverTerms } from '@/lib/store/read/cover-terms'
import { countStock } from '@/lib/store/read/stale-stock'
import { readStockLot } from '@/lib/store/read/stock-lot'
import { readStockRows } from '@/lib/store/read/stock-rows'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { putCoverTerms, undoCoverTerms } from '@/lib/store/write/put-cover-terms'
import { repairRow } from '../simulation/record-rows'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, TODAY, withLibrary } from './demo-fleet'

const { database } = await testDatabase()
const fleet = demoFleet(8)
const [first, second, third, fourth, fifth, ...rest] = fleet.records.vehicles
const stock = { status: 'stock' as const, acquiredOn: TODAY - 40, askingPrice: 9_000, value: 8_000 }
const sold = {
  ...{ status: 'sold' as const, leftOn: TODAY - 60, soldOn: TODAY - 60, acquiredOn: TODAY - 90 },
  ...{ coverUntilOn: TODAY + 120, coverUntilKm: 9_000_000 },
}
const vehicles = [
  { ...first!, ...stock },
  { ...second!, ...stock, acquiredOn: null, value: null },
  { ...third!, ...sold },
  { ...fourth!, ...sold },
  { ...fifth!, ...stock, family: 'unheard-of' },
  ...rest,
]
const [point] = fleet.library.families.find(({ key }) => key === third!.family)!.weakPoints
const paid = repairRow({
  ...{ unit: third!.unit, doneOn: TODAY - 10, odometerKm: null, weakPoint: point!.key, positions: [1] },
  ...{ action: 'renew', found: 'failed', partsCost: 200, labourHours: 2, paidBy: 'own' },
})
const others = [
  { ...paid, unit: fourth!.unit, paidBy: 'customer' as const },
  { ...paid, doneOn: TODAY - 70 },
]
const records = { ...fleet.records, vehicles, repairs: [...fleet.records.repairs, paid, ...others] }
const organisation = await withLibrary(database, 'stock', { ...fleet, records })
await enterRecords(database, organisation, records, { now: NOW, by: null })
await freshenScores(database, organisation, NOW)
const reckoned = await freshenStock(database, organisation, NOW)

const ask = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')
const lotNow = async () => (await ask((scope) => readStockLot<StockLot>(scope)))!.content
const rowOf = async (unit: string) => (await ask(readStockRows)).find((row) => row.unit === unit)!

test('each vehicle in stock or under cover is reckoned once, as its own page reckons it', async () => {
  expect(reckoned).toBe(5)
  expect(await freshenStock(database, organisation, NOW)).toBe(0)
  const rows = await ask(readStockRows)
  expect(rows.map(({ unit }) => unit).sort()).toEqual(
    vehicles
      .slice(0, 5)
      .map(({ unit }) => unit)
      .sort(),
  )
  expect(rows.every(({ stale }) => !stale)).toBe(true)
  for (const row of rows.filter(({ amount }) => amount !== null)) {
    const asked = { unit: row.unit, cover: null, excluded: null, claimLimit: null }
    const { amounts, cover, first } = (await ask((scope) => vehicleSetAside(scope, asked, NOW)))!
    const job = first?.cost ?? 0
    expect(row).toMatchObject({ p50: job + amounts.p50, p95: job + amounts.p95, coverDays: cover.days })
    expect([row.amount, row.mean]).toEqual([job + amounts.p80, expect.closeTo(job + amounts.mean, 6)])
  }
  expect(await rowOf(first!.unit)).toMatchObject({ daysInStock: 40, askingPrice: 9_000, coverOf: 'usual' })
  expect(await rowOf(third!.unit)).toMatchObject({ daysInStock: 30, coverOf: 'vehicle', coverDays: 120 })
  expect(await rowOf(fifth!.unit)).toMatchObject({ standing: 'not-assessed', amount: null })
})

test('the sum has the vehicles’ means, and is less than the sum of what is enough for each', async () => {
  const rows = (await ask(readStockRows)).filter(({ amount }) => amount !== null)
  const lot = await lotNow()
  expect(lot.vehicles).toBe(rows.length)
  expect(lot.total.mean / rows.reduce((sum, { mean }) => sum + mean!, 0)).toBeCloseTo(1, 1)
  expect(lot.total.p95).toBeLessThan(rows.reduce((sum, { p95 }) => sum + p95!, 0))
  expect(lot.total.p50).toBeLessThanOrEqual(lot.total.amount)
})

test('against it stands what the house has paid since the sales, and nothing else', async () => {
  const { claims } = await lotNow()
  expect(claims).toMatchObject({ vehicles: 2, claims: 1, unpriced: 0 })
  const rate = records.settings.labourRate ?? fleet.library.labourRate
  expect(claims!.paid).toBeCloseTo(200 + 2 * rate, 6)
  expect(claims!.expected).toBeGreaterThan(0)
  expect(claims!.low).toBeLessThanOrEqual(claims!.high)
})

test('the terms of a cover are kept with the vehicle, and taken back', async () => {
  const { unit } = first!
  const before = (await rowOf(unit)).mean!
  const terms = { days: 90, km: 5_000, excluded: [], claimLimit: 400 }
  const id = await ask((scope) => putCoverTerms(scope, unit, terms, { now: NOW, by: null }))
  expect((await ask(countStock)).stale).toBe(1)
  expect((await rowOf(unit)).stale).toBe(true)
  expect(await freshenStock(database, organisation, NOW)).toBe(1)
  expect(await rowOf(unit)).toMatchObject({ coverDays: 90, coverKm: 5_000, coverOf: 'terms', stale: false })
  expect((await rowOf(unit)).mean).toBeLessThan(before)
  expect(await ask((scope) => readCoverTerms(scope, unit))).toMatchObject(terms)
  expect(await ask((scope) => undoCoverTerms(scope, id!, { now: NOW, by: null }))).toBe(true)
  expect(await ask((scope) => undoCoverTerms(scope, id!, { now: NOW, by: null }))).toBe(false)
  expect(await ask((scope) => readCoverTerms(scope, unit))).toBeNull()
  await freshenStock(database, organisation, NOW)
  expect((await rowOf(unit)).mean).toBeCloseTo(before, 6)
  expect(await ask((scope) => putCoverTerms(scope, 'nobody', terms, { now: NOW, by: null }))).toBeNull()
})

test('a bid for a vehicle that is only asked about moves with what was seen, and nothing of it is kept', async () => {
  const counted = () =>
    ask(({ tx }) => tx.$queryRaw<{ n: number }[]>`select count(*)::int as n from vehicles`)
  const before = await counted()
  const family = fleet.library.families.find(({ key }) => key === first!.family)!
  const sums = { retail: 9_000, prep: 300, margin: 900, price: null, cover: null }
  const bidWith = (looked: Map<string, 'seen' | 'not seen'>, key = family.key) =>
    ask((scope) => vehicleBid(scope, { vehicle: { family: key, odometerKm: 140_000, looked }, ...sums }, NOW))
  const plain = (await bidWith(new Map()))!
  expect(plain.highest).toBeCloseTo(9_000 - 300 - 900 - (plain.first?.cost ?? 0) - plain.amount, 6)
  expect(plain.shareUnknown).toBeGreaterThan(0.99)
  const sign = family.signs.find(({ kind, causes }) => kind === 'visual' && causes.length > 0)!
  const seen = (await bidWith(new Map([[sign.key, 'seen']])))!
  const unseen = (await bidWith(new Map([[sign.key, 'not seen']])))!
  const costOf = (bid: typeof plain) => bid.mean + (bid.first?.cost ?? 0)
  expect(costOf(seen)).toBeGreaterThan(costOf(plain))
  expect(costOf(unseen)).toBeLessThan(costOf(plain))
  expect(await bidWith(new Map(), 'unheard-of')).toBeNull()
  expect(await counted()).toEqual(before)
})

test('a bid and what to fix are those of the vehicle on record, by the terms that it has', async () => {
  const { unit } = first!
  const sums = { retail: 9_000, prep: 0, margin: 0, price: null, cover: null }
  const bid = (await ask((scope) => vehicleBid(scope, { vehicle: { unit }, ...sums }, NOW)))!
  expect(9_000 - bid.highest).toBeCloseTo((await rowOf(unit)).amount!, 6)
  const sale = (await ask((scope) => vehicleBeforeSale(scope, unit, NOW)))!
  expect(sale.cover).toEqual(bid.cover)
  for (const { gain, fall, cost } of sale.jobs) expect(gain).toBeCloseTo(fall - cost, 9)
  expect(await ask((scope) => vehicleBeforeSale(scope, 'nobody', NOW))).toBeNull()
  expect(await ask((scope) => vehicleBid(scope, { vehicle: { unit: 'nobody' }, ...sums }, NOW))).toBeNull()
})
