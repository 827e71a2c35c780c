import type { IntervalChoice, IntervalOutcome } from '@/lib/decisions/interval-choice'
import type { Clock } from '@/lib/records/library'
import { kmFromMiles } from '@/lib/units/distances'
import type { Formats } from '../../ui/formats'
import { clockAmount } from './amounts'

export type Weighed = Extract<IntervalChoice, { ok: true }>

/** Whose parts are counted, where it is known how far they go. */
export type InUse = { vehicles: number; parts: number } | null

/** What a cost rate is told for, in words and clock units; `agesIn`: how many clock units a round age is counted in. */
export type CostUnit = { words: string; clockUnits: number; agesIn: number }

const DAYS_PER_YEAR = 365.25

export function costUnit(clock: Clock, distance: 'km' | 'mi'): CostUnit {
  if (clock === 'hours') return { words: 'per 100 hours', clockUnits: 100, agesIn: 1 }
  if (clock === 'time') return { words: 'a year', clockUnits: DAYS_PER_YEAR, agesIn: DAYS_PER_YEAR }
  return distance === 'km'
    ? { words: 'per 1,000 km', clockUnits: 1000, agesIn: 1 }
    : { words: 'per 1,000 miles', clockUnits: kmFromMiles(1000), agesIn: kmFromMiles(1) }
}

/** Told with the digits that a flat minimum has. */
const SAID_DIGITS = 2

/** What the intervals of one weak point are told in. */
export class IntervalWords {
  constructor(
    private readonly clock: Clock,
    private readonly unit: CostUnit,
    private readonly inUse: InUse,
    private readonly formats: Formats,
  ) {}

  interval(interval: number): string {
    if (interval === Number.POSITIVE_INFINITY) return 'when it fails'
    return clockAmount(interval, this.clock, this.formats)
  }

  cost({ rate }: IntervalOutcome): string {
    return this.formats.roughMoney(rate * this.unit.clockUnits)
  }

  count(perYear: number): string {
    return perYear >= 10 ? this.formats.count(perYear) : this.formats.decimal(perYear)
  }

  /** What is found: the cheapest, how exactly it has to be kept, and what running to failure would cost. */
  finding({ best, flat, toFailure }: Weighed): string {
    const cost = `${this.cost(best)} ${this.unit.words}`
    if (best.interval === Number.POSITIVE_INFINITY)
      return (
        `Running it to failure costs least: ${cost}. Replaced sooner, it costs more than the breakdowns that this saves.` +
        this.failures(best, null)
      )
    const { agesIn } = this.unit
    const rounded = (age: number) => this.interval(agesIn * Number((age / agesIn).toPrecision(SAID_DIGITS)))
    const stretch =
      flat.high === Number.POSITIVE_INFINITY
        ? `From ${rounded(flat.low)} on, running to failure included, it costs at most 5 % more.`
        : `Anything from ${rounded(flat.low)} to ${rounded(flat.high)} costs at most 5 % more. Run to failure it would be ${this.cost(toFailure)}.`
    return `Least costly is to replace it every ${rounded(best.interval)}: ${cost}. ${stretch}${this.failures(best, toFailure)}`
  }

  /** One interval against the cheapest. */
  against(outcome: IntervalOutcome, { best }: Weighed): string {
    const more = Math.round((outcome.rate / best.rate - 1) * 100)
    const than = more === 0 ? 'as little as the least' : `${this.formats.count(more)} % more than the least`
    const yearly = this.inUse
      ? ` ${this.count(outcome.failuresPerYear)} would fail in a year, and ${this.count(outcome.replacedPerYear)} be replaced by plan.`
      : ''
    return `${this.cost(outcome)} ${this.unit.words}, ${than}.${yearly}`
  }

  private failures(best: IntervalOutcome, toFailure: IntervalOutcome | null): string {
    if (!this.inUse) return ''
    const { parts, vehicles } = this.inUse
    const whose = `Of the ${this.formats.count(parts)} in your ${this.formats.count(vehicles)} vehicles driven so`
    const instead = toFailure ? `, instead of ${this.count(toFailure.failuresPerYear)}` : ''
    return ` ${whose}, ${this.count(best.failuresPerYear)} would then fail in a year${instead}.`
  }
}
