import type { EarlyPartsNow } from '@/lib/jobs/early-parts'
import type { PartNow, PartsNow } from '@/lib/jobs/parts-now'
import type { PartStock } from '@/lib/records/part-stock'
import type { Day } from '@/lib/units/dates'
import type { Formats } from '../../ui/formats'

/** A share of cases as people say it: "19 of 20 cases". */
export function casesWords(level: number, formats: Formats): string {
  for (const many of [2, 3, 4, 5, 10, 20, 50, 100]) {
    const cases = level * many
    if (Math.abs(cases - Math.round(cases)) < 1e-9)
      return `${formats.count(Math.round(cases))} of ${many} cases`
  }
  return `${formats.percent(level)} of all cases`
}

/** What today asks for. */
export function firstWords({ parts, weeks, level, today }: PartsNow, formats: Formats): string {
  const order = parts.filter(({ toOrder }) => toOrder > 0)
  const cases = casesWords(level, formats)
  if (order.length === 0)
    return `What is there and on order is enough for the coming ${weeks} weeks in ${cases}.`
  const late = order.filter(({ orderBy }) => orderBy !== null && orderBy < today).length
  const cost = order.reduce((sum, { toOrder, price }) => sum + toOrder * (price ?? 0), 0)
  const unpriced = order.filter(({ price }) => price === null).length
  const many = order.length === 1 ? '1 part is' : `${formats.count(order.length)} parts are`
  const money = cost > 0 ? `, for ${formats.money(cost)}` : ''
  const without = unpriced > 0 ? ` (${formats.count(unpriced)} without a price)` : ''
  const lateWords =
    late === 0
      ? ''
      : ` ${late === 1 ? 'One comes' : `${formats.count(late)} come`} too late even if ordered today.`
  return `To have enough for the coming ${weeks} weeks in ${cases}, ${many} to be ordered${money}${without}.${lateWords}`
}

/** What is to be ordered, and by when. */
export function orderWords(part: PartNow, today: Day, formats: Formats): string {
  const { toOrder, orderBy, shortFrom, stock } = part
  if (toOrder === 0)
    return shortFrom === null ? 'enough' : `enough, but may be short from ${formats.day(shortFrom)}`
  if (orderBy === null)
    return stock?.leadDays == null ? 'soon: nobody has said how long it takes' : 'with the next order'
  if (orderBy < today) return `today: too late for ${formats.day(shortFrom ?? today)}`
  return orderBy === today ? 'today' : `by ${formats.day(orderBy)}`
}

/** What is on order, and when it comes. */
export function comingWords(stock: PartStock | null, today: Day, formats: Formats): string {
  if (!stock?.onOrder) return stock ? 'none' : '–'
  const { onOrder, dueOn } = stock
  const many = formats.count(onOrder)
  if (dueOn === null) return `${many}, day not said`
  return dueOn < today ? `${many}, was due ${formats.day(dueOn)}` : `${many}, due ${formats.day(dueOn)}`
}

/** How the need may come out: as often below as above, and where it lies in four of five cases. */
export const needWords = ({ mean, p10, p90 }: PartNow, formats: Formats): string =>
  `about ${formats.tally(mean)}; ${p10 === p90 ? formats.count(p10) : `${formats.count(p10)} to ${formats.count(p90)}`} in 4 of 5 cases`

/** By chance alone: once in how many. */
export function oddsWords(chance: number, formats: Formats): string {
  if (chance >= 0.1) return formats.share(chance)
  const once = 1 / chance
  return once > 1e6 ? 'less than once in a million' : `once in ${formats.count(Number(once.toPrecision(2)))}`
}

/** What was looked at for parts that fail early, and what an alarm means. */
export function lookedAtWords(
  { groups, parts }: NonNullable<EarlyPartsNow['found']>,
  formats: Formats,
): string {
  return `Looked at: ${formats.count(parts)} parts that were put in with a supplier or a batch on record, in ${formats.count(groups)} groups, each a kind of part of one supplier or of one batch. Of many groups some look bad by chance alone; so one is named only where the worst of that many would come out so bad in fewer than 1 of 20 such lists.`
}
