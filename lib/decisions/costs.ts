/** What a job costs planned and unplanned, and what a kilometre between renewals costs in the long run. */
import { ageReplacement } from '@/lib/model/age-replacement'
import type { Library, WeakPoint } from '@/lib/records/library'
import type { Settings } from '@/lib/records/settings'
import type { Parameters } from '@/lib/scoring/parameters'

/** An organisation's prices: its own settings first, the library's where it has said nothing. */
export interface Prices {
  labourRate: number
  dayOffRoad: number
  visit: number
  slotDays: number
  lookHours: Record<'scan' | 'visual' | 'road' | 'measure', number>
  /** Times the library's price of parts; left out: once. */
  partsFactor?: number
}

export interface JobCost {
  /** C_p: parts and hours, the visit not counted. */
  planned: number
  /** C_f: planned, extra damage and days off the road. */
  unplanned: number
}

export function pricesOf(library: Library, settings: Settings): Prices {
  const hours = (kind: keyof Prices['lookHours']) =>
    settings.looks?.[kind]?.hours ?? library.looks[kind].hours
  return {
    labourRate: settings.labourRate ?? library.labourRate,
    dayOffRoad: settings.dayOffRoad ?? library.dayOffRoad,
    visit: settings.visit ?? library.visit,
    slotDays: settings.slotDays ?? library.slotDays,
    lookHours: {
      scan: hours('scan'),
      visual: hours('visual'),
      road: hours('road'),
      measure: hours('measure'),
    },
  }
}

/** What a customer pays, and what a day without the vehicle costs them: the organisation's own where nothing else is said. */
export function customerPrices(library: Library, settings: Settings): Prices {
  const own = pricesOf(library, settings)
  return {
    ...own,
    labourRate: settings.customerLabourRate ?? own.labourRate,
    dayOffRoad: settings.customerDayOffRoad ?? own.dayOffRoad,
    visit: settings.customerVisit ?? own.visit,
    partsFactor: settings.customerPartsFactor ?? 1,
  }
}

/** Extra damage has no parts of its own in a library: it counts at the library's price, whoever pays. */
export function jobCost({ cost }: WeakPoint, prices: Prices): JobCost {
  const planned = cost.parts * (prices.partsFactor ?? 1) + cost.hours * prices.labourRate
  return { planned, unplanned: planned + cost.failureExtra + cost.daysOff * prices.dayOffRoad }
}

/**
 * g*: the least long-run cost of a clock unit (effective units), of the original part with the vehicle's
 * variant. Where no finite age is best, that of running to failure, C_f/E[F].
 *
 * Source: Barlow & Hunter (1960), Operations Research 8, 90–100.
 */
export type LongRunRates = (weakPoint: WeakPoint, variant: string | null, parameters: Parameters) => number

export function longRunRates(prices: Prices): LongRunRates {
  const known = new Map<WeakPoint, Map<string | null, number>>()
  return (weakPoint, variant, parameters) => {
    const ofVariant = known.get(weakPoint) ?? new Map<string | null, number>()
    known.set(weakPoint, ofVariant)
    const found = ofVariant.get(variant)
    if (found !== undefined) return found
    const cost = jobCost(weakPoint, prices)
    // A job without a price has no long-run cost: decisions about money are then silent.
    const optimum =
      cost.planned > 0
        ? ageReplacement(parameters.original(weakPoint, variant), cost.planned, cost.unplanned)
        : null
    const rate = optimum?.ok ? optimum.gStar : 0
    ofVariant.set(variant, rate)
    return rate
  }
}
