import type { Terms } from '@/lib/store/read/terms'
import type { Day } from '@/lib/units/dates'
import { ADVICE } from '../../ui/words'
import type { Twin } from '../twins/answer-twin'
import { dayCell, type Told, told } from '../twins/twin'
import { casesWords } from '../vehicles/[unit]/set-aside/aside-words'
import { readStockPage } from './read-stock-page'
import { type StockLine, stockSort } from './stock-view'

/** The stock, in the order of the page. @param share of cases in which the amount is to be enough */
export const stockTold = (
  lines: readonly StockLine[],
  { share, asOf, currency }: Pick<Terms, 'currency'> & { share: number; asOf: Day | null },
): Told =>
  told<StockLine>(
    'stock',
    asOf,
    [
      ['unit', 'Vehicle', ({ unit }) => unit],
      ['plate', 'Plate', ({ plate }) => plate],
      ['engine', 'Engine', ({ family }) => family],
      ['status', 'Status', ({ status }) => status],
      ['advice', 'Advice', ({ standing }) => ADVICE[standing]],
      ['acquired_on', 'Bought on', ({ acquiredOn }) => dayCell(acquiredOn)],
      ['sold_on', 'Sold on', ({ soldOn }) => dayCell(soldOn)],
      ['days_in_stock', 'Days in stock', ({ daysInStock }) => daysInStock],
      ['asking_price', 'Asking price', ({ askingPrice }) => askingPrice, currency],
      ['value', 'Value', ({ value }) => value, currency],
      ['cover_days', 'Cover', ({ coverDays }) => coverDays, 'days'],
      ['cover_km', 'Cover', ({ coverKm }) => coverKm, 'km'],
      ['set_aside', `Set aside, enough in ${casesWords(share)}`, ({ amount }) => amount, currency],
      ['set_aside_p50', 'Set aside, enough in half', ({ p50 }) => p50, currency],
      ['set_aside_p95', 'Set aside, enough in 19 of 20', ({ p95 }) => p95, currency],
      ['set_aside_mean', 'Set aside, on the average', ({ mean }) => mean, currency],
      ['share_of_value', 'Share of its value', ({ shareOfValue }) => shareOfValue],
      ['grade', 'In your own words', ({ grade }) => grade],
      ['share_unknown', 'Share for unknown history', ({ shareUnknown }) => shareUnknown],
      ['stale', 'Being reckoned again', ({ stale }) => stale],
    ],
    lines,
  )

/** The stock exactly as its page shows it at the same parameters. */
export const stockTwin: Twin = async ({ database, organisation, parameters }) => {
  const { terms, lines, share, asOf } = await readStockPage(database, organisation, stockSort(parameters))
  return stockTold(lines, { share, asOf, currency: terms.currency })
}
