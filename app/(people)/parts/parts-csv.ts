import { csvLine } from '@/lib/intake/csv-line'
import type { PartNow, PartsNow } from '@/lib/jobs/parts-now'
import { type Day, formatDay } from '@/lib/units/dates'
import { harmless } from '../watchlist-csv'

const day = (value: Day | null) => (value === null ? null : formatDay(value))

/** What is to be ordered as a CSV file (RFC 4180), in the order of the page; a number has its unit in its heading. */
export function orderCsv(
  parts: readonly PartNow[],
  { today, weeks, level }: PartsNow,
  currency: string | null,
): string {
  const money = currency === null ? '' : ` (${currency})`
  const cells: [heading: string, value: (part: PartNow) => string | number | null][] = [
    ['Part', ({ part }) => part],
    ['Used for', ({ named }) => [...new Set(named.map(({ name }) => name))].join(', ') || null],
    ['Supplier', ({ stock }) => stock?.supplier ?? null],
    ['To order', ({ toOrder }) => toOrder],
    ['Order by', ({ orderBy }) => day(orderBy)],
    ['May be short from', ({ shortFrom }) => day(shortFrom)],
    ['Takes (days)', ({ stock }) => stock?.leadDays ?? null],
    [`Price of one${money}`, ({ price }) => price],
    [`Price of the order${money}`, ({ price, toOrder }) => (price === null ? null : toOrder * price)],
    ['On hand', ({ stock }) => stock?.onHand ?? null],
    ['On order', ({ stock }) => stock?.onOrder ?? null],
    ['Due on', ({ stock }) => day(stock?.dueOn ?? null)],
    [`Needed in ${weeks} weeks, mean`, ({ mean }) => Number(mean.toPrecision(6))],
    [`Enough in ${Number((level * 100).toPrecision(4))} of 100 cases`, ({ enough }) => enough],
    ['As of', () => day(today)],
  ]
  return [
    csvLine(cells.map(([heading]) => heading)),
    ...parts
      .filter(({ toOrder }) => toOrder > 0)
      .map((part) => csvLine(cells.map(([, value]) => harmless(value(part))))),
  ].join('')
}
