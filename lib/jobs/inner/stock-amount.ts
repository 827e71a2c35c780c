import type { AdviceGround } from '@/lib/decisions/advice'
import { doneFirst } from '@/lib/decisions/done-first'
import { certainAmount, type PointByLife, pointsByLife } from '@/lib/decisions/lot'
import { setAsideDetail } from '@/lib/decisions/set-aside-detail'
import { quantiles } from '@/lib/model/lattice'
import type { ClassRate } from '@/lib/records/usage'
import {
  dayOfRecord,
  groupByVehicle,
  type OneRecord,
  type VehicleRecords,
} from '@/lib/records/vehicle-records'
import { readClassRate } from '@/lib/store/read/class-rate'
import { readCoverTerms } from '@/lib/store/read/cover-terms'
import { readFitInForce } from '@/lib/store/read/fit-in-force'
import { readRecords } from '@/lib/store/read/records'
import type { ScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { StockAmount } from '@/lib/store/write/keep-stock-amount'
import type { Day } from '@/lib/units/dates'
import { type CoverGiven, coverGiven } from './cover-given'
import { Scorer } from './score-stale'

/** What is enough in so many cases where an organisation has said nothing. */
export const USUAL_SHARE = 0.8

/**
 * What is set aside for one vehicle, with its parts for the lot. A job without which it must not be driven is counted.
 *
 * @returns null where it is not assessed
 */
export async function stockAmountOf(
  scope: OrganisationScope,
  { scoring, scorer }: { scoring: ScoringGround; scorer: Scorer },
  unit: string,
): Promise<StockAmount | null> {
  const [records] = groupByVehicle(await readRecords(scope, [unit]))
  const classRate = await readClassRate(scope, unit)
  const ground = records && scorer.groundFrom(scope, records, classRate)
  if (!ground) return null
  const given = coverGiven(records.vehicle, ground, await readCoverTerms(scope, unit))
  const { first, after } = doneFirst(ground)
  const beforeCover = first?.cost ?? 0
  const { total, points } = setAsideDetail(after, given)
  const share = scoring.settings.setAsideShare ?? USUAL_SHARE
  const [p50, amount, p95] = [0.5, share, 0.95].map((level) => beforeCover + quantiles(total, [level])[0]!)
  return {
    ...{ coverDays: given.cover.days, coverKm: given.cover.km, coverOf: given.coverOf },
    ...{ amount: amount!, p50: p50!, p95: p95!, mean: beforeCover + total.mean },
    meanOfUnknown: points.reduce((sum, each) => sum + each.meanOfUnknownHistory, 0),
    byLife: [...pointsByLife(after, given), ...(first ? [certainAmount('first job', beforeCover)] : [])],
    sinceSale: await sinceSale(scope, { scoring, ground, records, classRate, given }),
  }
}

type Sold = {
  scoring: ScoringGround
  ground: AdviceGround
  records: VehicleRecords
  classRate: ClassRate | null
  given: CoverGiven
}

/**
 * What a sold vehicle was to cost from its sale until today, by what was on record on the day of its sale and how far it
 * has been driven since. Days off the road are the customer's, and are not counted.
 */
async function sinceSale(scope: OrganisationScope, sold: Sold): Promise<PointByLife[] | null> {
  const { scoring, ground, records, classRate, given } = sold
  const { status, soldOn, leftOn, coverUntilKm } = records.vehicle
  const on = soldOn ?? leftOn
  const { asOf, kmAt } = ground.clock
  if (status !== 'sold' || on === null || on >= asOf) return null
  const then = new Scorer({ ...scoring, asOf: on }, await readFitInForce(scope))
  const past = then.groundFrom(scope, recordsUntil(records, on), classRate)
  if (!past) return null
  const driven = Math.max(Math.min(kmAt(asOf), coverUntilKm ?? Number.POSITIVE_INFINITY) - kmAt(on), 0)
  const hours = Math.max(ground.clock.hoursAt(asOf) - ground.clock.hoursAt(on), 0)
  const days = asOf - on
  // How far it was driven is known by now: that much, and no other.
  const clock = {
    ...past.clock,
    usage: { ...past.clock.usage, logSd: 0 },
    ahead: (ahead: number) => ({ km: (driven * ahead) / days, hours: (hours * ahead) / days }),
  }
  const prices = { ...past.prices, dayOffRoad: 0 }
  return pointsByLife({ ...past, clock, prices }, { ...given, cover: { days, km: null } })
}

/** The records of a vehicle up to a day, when it was there still. */
function recordsUntil(records: VehicleRecords, day: Day): VehicleRecords {
  const known = <Kind extends OneRecord['kind']>(kind: Kind) =>
    records[kind].filter((row) => dayOfRecord({ kind, row } as OneRecord) <= day) as VehicleRecords[Kind]
  return {
    vehicle: { ...records.vehicle, status: 'stock' },
    ...{ readings: known('readings'), codes: known('codes'), checks: known('checks') },
    ...{ repairs: known('repairs'), changes: known('changes') },
  }
}
