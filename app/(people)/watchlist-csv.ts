import { csvLine } from '@/lib/intake/csv-line'
import type { Terms } from '@/lib/store/read/terms'
import type { WatchlistRow } from '@/lib/store/read/watchlist'
import type { WatchlistColumn } from '@/lib/store/read/watchlist-query'
import { type Day, formatDay } from '@/lib/units/dates'
import { milesFromKm } from '@/lib/units/distances'
import { STATUSES } from '../ui/record-words'
import { ADVICE, COLUMNS, HISTORY, horizonWords, nextWords, placeWords, slotWords } from '../ui/words'
import { changeText } from './change-text'
import type { View } from './view'

type Cell = { heading: string; value: (row: WatchlistRow) => string | number | null }
type Told = { view: View; terms: Pick<Terms, 'currency' | 'slotDays'> }

/** What a spreadsheet would take for a formula (OWASP, CSV injection). */
const FORMULA = /^[=+\-@\t\r]/

/** A text that no spreadsheet runs: what begins like a formula gets an apostrophe. Numbers are left as they are. */
export const harmless = (cell: string | number | null): string | number | null =>
  typeof cell === 'string' && FORMULA.test(cell) ? `'${cell}` : cell

const day = (value: Day | null) => (value === null ? null : formatDay(value))

/** The cells of each column: a number has its unit in its heading. */
function cellsOf({ view, terms }: Told): Record<WatchlistColumn, Cell[]> {
  const money = terms.currency === null ? '' : ` (${terms.currency})`
  const within = `within ${horizonWords(view.horizonDays)}`
  const distance = (km: number | null) => (km === null || view.distance === 'km' ? km : milesFromKm(km))
  const one = (column: WatchlistColumn, value: Cell['value'], heading = COLUMNS[column].heading): Cell[] => [
    { heading, value },
  ]
  return {
    unit: [
      { heading: COLUMNS.unit.heading, value: (row) => row.unit },
      { heading: 'Plate', value: (row) => row.plate },
    ],
    customer: one('customer', (row) => row.customer),
    contact: one('contact', (row) => row.contact),
    advice: one('advice', (row) => ADVICE[row.standing]),
    weakPoint: [
      { heading: COLUMNS.weakPoint.heading, value: (row) => row.weakPoint },
      { heading: 'Place', value: (row) => placeWords(row.place, row.position) || null },
    ],
    chance: [
      { heading: `Chance ${within}`, value: (row) => row.pFail },
      { heading: 'Chance, low end of its 80 % band', value: (row) => row.pLow },
      { heading: 'Chance, high end of its 80 % band', value: (row) => row.pHigh },
    ],
    speaks: one('speaks', (row) => row.speaks),
    changed: one('changed', (row) => row.changed && changeText(row.changed, String)),
    next: one('next', (row) => nextWords(row)),
    waiting: one(
      'waiting',
      (row) => row.costOfWaiting,
      `Cost of waiting ${slotWords(terms.slotDays)}${money}`,
    ),
    combined: one('combined', (row) => row.combined, `Chance of any weak point ${within}`),
    engine: one('engine', (row) => row.family),
    site: one('site', (row) => row.site ?? row.customer),
    status: one('status', (row) => STATUSES[row.status]),
    history: one('history', (row) => HISTORY[row.history]),
    value: one('value', (row) => row.value, `Value${money}`),
    asking: one('asking', (row) => row.askingPrice, `Asking price${money}`),
    inStock: one('inStock', (row) => row.daysInStock),
    aside: [
      { heading: `${COLUMNS.aside.heading}${money}`, value: (row) => row.aside?.amount ?? null },
      { heading: `Set aside, enough in half${money}`, value: (row) => row.aside?.p50 ?? null },
      { heading: `Set aside, enough in 19 of 20${money}`, value: (row) => row.aside?.p95 ?? null },
    ],
    odometer: [
      { heading: `Odometer (${view.distance})`, value: (row) => distance(row.odometerKm) },
      { heading: 'Odometer read on', value: (row) => day(row.odometerReadOn) },
      { heading: 'Odometer estimated', value: (row) => (row.odometerEstimated ? 'yes' : 'no') },
    ],
    scan: [
      { heading: 'Last full scan on', value: (row) => day(row.lastFullScanOn) },
      { heading: 'Last looked at on', value: (row) => day(row.lastLookedAtOn) },
    ],
  }
}

/** The rows as a CSV file (RFC 4180): the columns that are seen, in their order, and the day that they speak of. */
export function watchlistCsv(rows: WatchlistRow[], told: Told): string {
  const cells = cellsOf(told)
  const chosen = [
    ...told.view.columns.flatMap((column) => cells[column]),
    { heading: 'As of', value: (row: WatchlistRow) => formatDay(row.asOf) },
  ]
  return [
    csvLine(chosen.map(({ heading }) => heading)),
    ...rows.map((row) => csvLine(chosen.map(({ value }) => harmless(value(row))))),
  ].join('')
}
