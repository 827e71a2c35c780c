import { csvLine } from '@/lib/intake/csv-line'
import type { Terms } from '@/lib/store/read/terms'
import { type Day, formatDay } from '@/lib/units/dates'
import { harmless } from '../watchlist-csv'
import type { VisitRow } from './visits-view'

type Told = { asOf: Day; terms: Pick<Terms, 'currency'>; jobsOf: (row: VisitRow) => string }

/** The visits as a CSV file (RFC 4180), in the order in which the page shows them. */
export function visitsCsv(rows: readonly VisitRow[], { asOf, terms, jobsOf }: Told): string {
  const money = terms.currency === null ? '' : ` (${terms.currency})`
  const cells: [heading: string, value: (row: VisitRow) => string | number | null][] = [
    ['Vehicle', ({ unit }) => unit],
    ['Plate', ({ plate }) => plate],
    ['Customer', ({ customer }) => customer],
    ['Site', ({ site }) => site],
    ['Jobs', jobsOf],
    ['Must not be driven before', ({ stop }) => (stop ? 'yes' : 'no')],
    ['Hours', ({ hours }) => hours],
    [`Price${money}`, ({ price }) => price],
    [`Price of the visit${money}`, ({ visit }) => visit],
    [`Saves${money}`, ({ saving }) => saving],
    [`Saves, low end of its 80 % band${money}`, ({ savingLow }) => savingLow],
    [`Saves, high end of its 80 % band${money}`, ({ savingHigh }) => savingHigh],
    [`Saves an hour${money}`, ({ perHour }) => perHour],
    ['In the hours that there are', ({ fits }) => (fits ? 'yes' : 'no')],
    ['As of', () => formatDay(asOf)],
  ]
  return [
    csvLine(cells.map(([heading]) => heading)),
    ...rows.map((row) => csvLine(cells.map(([, value]) => harmless(value(row))))),
  ].join('')
}
