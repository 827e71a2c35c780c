import { HISTORY_HORIZON_DAYS } from '@/lib/store/horizons'
import { countWaitingReports, readDriverReports, type StoredReport } from '@/lib/store/read/driver-reports'
import { readUnscanned, type UnscannedVehicle } from '@/lib/store/read/looks'
import { readStockLot } from '@/lib/store/read/stock-lot'
import { readStopNotices, type StopNotice } from '@/lib/store/read/stop-notices'
import { readTerms, type Terms } from '@/lib/store/read/terms'
import {
  type Days,
  readWeekRises,
  readWeekStops,
  type WeekRise,
  type WeekStop,
} from '@/lib/store/read/week-changes'
import { readWhatTodayAsks } from '@/lib/store/read/what-today-asks'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { type Day, dayIn } from '@/lib/units/dates'
import type { StockLot } from './freshen-stock'
import { readPlanNow } from './plan-now'

const WEEK_DAYS = 7
/** So many of each kind are told; the others are counted, and a link away. */
const MOST = 10
/** A scan longer ago than so many days is overdue. (A convention of ours, the page of looks has the same.) */
export const SCAN_OVERDUE_DAYS = 90

/** Part of a longer list, and how many there are. */
export type Some<T> = { shown: T[]; total: number }

/** A vehicle whose promised visit slipped; `weekOn` is where it is now, null in no visit. */
export type SlippedVisit = { unit: string; promisedOn: Day; weekOn: Day | null }

/** What changed within seven days, and what waits as things stand now. */
export type Digest = Days & {
  terms: Terms
  stops: WeekStop[]
  rises: Some<WeekRise>
  /** Whether scores were kept before the first day; else nothing can be said of risen chances. */
  comparable: boolean
  /** What waits: told of the present alone, for of a past week nobody kept it; null for one that is over longer. */
  waits: Waiting | null
}

export type Waiting = {
  /** Notices that a vehicle must not be driven whose drivers nobody has told, whenever they were raised. */
  untold: StopNotice[]
  overdue: Some<UnscannedVehicle>
  slipped: SlippedVisit[]
  reports: Some<StoredReport>
  /** Visits that are due of vehicles that may be driven, and what leaving them for one slot costs, with its band. */
  due: { visits: number; cost: number; band: { low: number; high: number } }
  /** What to set aside for the stock and what is sold under cover; null where nothing is in stock. */
  setAside: { vehicles: number; amount: number } | null
}

/**
 * What the seven days up to `to` brought.
 *
 * @param to the last day, where the organisation is; null: yesterday
 * @param now the present instant
 */
export async function readDigest(scope: OrganisationScope, to: Day | null, now: Date): Promise<Digest> {
  const terms = await readTerms(scope)
  const today = dayIn(terms.timeZone, now)
  const last = Math.min(to ?? today - 1, today)
  const days = { from: last - WEEK_DAYS + 1, to: last }
  const { rises, total, keptFrom } = await readWeekRises(scope, days, MOST)
  return {
    ...days,
    terms,
    stops: await readWeekStops(scope, days, terms.timeZone),
    rises: { shown: rises, total },
    comparable: keptFrom !== null && keptFrom < days.from,
    waits: last >= today - 1 ? await readWaiting(scope, now) : null,
  }
}

async function readWaiting(scope: OrganisationScope, now: Date): Promise<Waiting> {
  const asks = await readWhatTodayAsks(scope, HISTORY_HORIZON_DAYS)
  const overdue = await readUnscanned(scope, {
    ...{ days: SCAN_OVERDUE_DAYS, sites: [], sort: 'going', descending: true, limit: MOST },
  })
  const lot = (await readStockLot<StockLot>(scope))?.content ?? null
  return {
    untold: await readStopNotices(scope, { untold: true }),
    overdue: { shown: overdue.vehicles, total: overdue.total },
    slipped: await readSlipped(scope, now),
    reports: {
      shown: await readDriverReports(scope, { waiting: true, most: MOST }),
      total: await countWaitingReports(scope),
    },
    due: {
      visits: asks.byStanding.book,
      cost: asks.costOfNotBooking,
      band: asks.bandOfNotBooking,
    },
    setAside:
      lot === null || lot.vehicles === 0 ? null : { vehicles: lot.vehicles, amount: lot.total.amount },
  }
}

/** Vehicles whose promised visit slipped, each once. */
async function readSlipped(scope: OrganisationScope, now: Date): Promise<SlippedVisit[]> {
  const { plan } = await readPlanNow(scope, now)
  if (!plan) return []
  const slipped = plan.slipped.map(({ unit, promisedWeek, week }) => ({
    unit,
    promisedOn: plan.weeksOn[promisedWeek] ?? plan.firstDay,
    weekOn: week === null ? null : (plan.weeksOn[week] ?? null),
  }))
  return slipped.filter(({ unit }, i) => slipped.findIndex((each) => each.unit === unit) === i)
}
