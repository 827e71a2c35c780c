import type { Terms } from '@/lib/store/read/terms'
import { type Day, formatDay } from '@/lib/units/dates'
import { ADVICE } from '../../ui/words'
import type { StockLine } from '../stock/stock-view'
import { casesWords } from '../vehicles/[unit]/set-aside/aside-words'

export type StockCell = { heading: string; value: (line: StockLine) => string | number | null }

const day = (value: Day | null) => (value === null ? null : formatDay(value))

/** The cells of a row of the stock; a number has its unit in its heading. */
export function stockCells(share: number, { currency }: Pick<Terms, 'currency'>): StockCell[] {
  const money = currency === null ? '' : ` (${currency})`
  return [
    { heading: 'Vehicle', value: ({ unit }) => unit },
    { heading: 'Plate', value: ({ plate }) => plate },
    { heading: 'Engine', value: ({ family }) => family },
    { heading: 'Status', value: ({ status }) => status },
    { heading: 'Advice', value: ({ standing }) => ADVICE[standing] },
    { heading: 'Bought on', value: ({ acquiredOn }) => day(acquiredOn) },
    { heading: 'Sold on', value: ({ soldOn }) => day(soldOn) },
    { heading: 'Days in stock', value: ({ daysInStock }) => daysInStock },
    { heading: `Asking price${money}`, value: ({ askingPrice }) => askingPrice },
    { heading: `Value${money}`, value: ({ value }) => value },
    { heading: 'Cover (days)', value: ({ coverDays }) => coverDays },
    { heading: 'Cover (km)', value: ({ coverKm }) => coverKm },
    { heading: `Set aside, enough in ${casesWords(share)}${money}`, value: ({ amount }) => amount },
    { heading: `Set aside, enough in half${money}`, value: ({ p50 }) => p50 },
    { heading: `Set aside, enough in 19 of 20${money}`, value: ({ p95 }) => p95 },
    { heading: `Set aside, on the average${money}`, value: ({ mean }) => mean },
    { heading: 'Share of its value', value: ({ shareOfValue }) => shareOfValue },
    { heading: 'In your own words', value: ({ grade }) => grade },
    { heading: 'Share for unknown history', value: ({ shareUnknown }) => shareUnknown },
    { heading: 'Being reckoned again', value: ({ stale }) => (stale ? 'yes' : 'no') },
    { heading: 'As of', value: ({ asOf }) => formatDay(asOf) },
  ]
}
