import type { Terms } from '@/lib/store/read/terms'
import type { WatchlistRow } from '@/lib/store/read/watchlist'
import type { WatchlistColumn } from '@/lib/store/read/watchlist-query'
import type { Day } from '@/lib/units/dates'
import { milesFromKm } from '@/lib/units/distances'
import { STATUSES } from '../ui/record-words'
import { ADVICE, COLUMNS, HISTORY, horizonWords, nextWords, placeWords, slotWords } from '../ui/words'
import { changeText } from './change-text'
import { toldWatchlist } from './told-watchlist'
import type { Twin } from './twins/answer-twin'
import { type Column, dayCell, type Told, told } from './twins/twin'
import type { View } from './view'

type Cell = Column<WatchlistRow>
type About = { view: View; terms: Pick<Terms, 'currency' | 'slotDays'>; asOf: Day | null }

/** The columns of the data behind each column of the table. */
function columnsOf({ view, terms }: Omit<About, 'asOf'>): Record<WatchlistColumn, Cell[]> {
  const { currency } = terms
  const within = `within ${horizonWords(view.horizonDays)}`
  const distance = (km: number | null) => (km === null || view.distance === 'km' ? km : milesFromKm(km))
  const headed = (column: WatchlistColumn) => COLUMNS[column].heading
  return {
    unit: [
      ['unit', headed('unit'), (row) => row.unit],
      ['plate', 'Plate', (row) => row.plate],
    ],
    customer: [['customer', headed('customer'), (row) => row.customer]],
    contact: [['contact', headed('contact'), (row) => row.contact]],
    advice: [['advice', headed('advice'), (row) => ADVICE[row.standing]]],
    weakPoint: [
      ['weak_point', headed('weakPoint'), (row) => row.weakPoint],
      ['place', 'Place', (row) => placeWords(row.place, row.position) || null],
    ],
    chance: [
      ['p_fail', `Chance ${within}`, (row) => row.pFail],
      ['p_low', 'Chance, low end of its 80 % band', (row) => row.pLow],
      ['p_high', 'Chance, high end of its 80 % band', (row) => row.pHigh],
    ],
    speaks: [['speaks', headed('speaks'), (row) => row.speaks]],
    changed: [['changed', headed('changed'), (row) => row.changed && changeText(row.changed, String)]],
    next: [['next', headed('next'), (row) => nextWords(row)]],
    waiting: [
      [
        'cost_of_waiting',
        `Cost of waiting ${slotWords(terms.slotDays)}`,
        (row) => row.costOfWaiting,
        currency,
      ],
    ],
    combined: [['p_any', `Chance of any weak point ${within}`, (row) => row.combined]],
    engine: [['engine', headed('engine'), (row) => row.family]],
    site: [['site', headed('site'), (row) => row.site ?? row.customer]],
    status: [['status', headed('status'), (row) => STATUSES[row.status]]],
    history: [['history', headed('history'), (row) => HISTORY[row.history]]],
    value: [['value', 'Value', (row) => row.value, currency]],
    asking: [['asking_price', 'Asking price', (row) => row.askingPrice, currency]],
    inStock: [['days_in_stock', headed('inStock'), (row) => row.daysInStock]],
    aside: [
      ['set_aside', headed('aside'), (row) => row.aside?.amount ?? null, currency],
      ['set_aside_p50', 'Set aside, enough in half', (row) => row.aside?.p50 ?? null, currency],
      ['set_aside_p95', 'Set aside, enough in 19 of 20', (row) => row.aside?.p95 ?? null, currency],
    ],
    odometer: [
      [`odometer_${view.distance}`, 'Odometer', (row) => distance(row.odometerKm), view.distance],
      ['odometer_read_on', 'Odometer read on', (row) => dayCell(row.odometerReadOn)],
      ['odometer_estimated', 'Odometer estimated', (row) => row.odometerEstimated],
    ],
    scan: [
      ['last_full_scan_on', 'Last full scan on', (row) => dayCell(row.lastFullScanOn)],
      ['last_looked_at_on', 'Last looked at on', (row) => dayCell(row.lastLookedAtOn)],
    ],
  }
}

/** The rows with the columns that are seen, in their order. */
export function watchlistTold(rows: WatchlistRow[], about: About): Told {
  const columns = columnsOf(about)
  return told(
    'watchlist',
    about.asOf,
    about.view.columns.flatMap((column) => columns[column]),
    rows,
  )
}

/** Exactly what the watchlist shows at the same parameters, all of its rows. */
export const watchlistTwin: Twin = async ({ database, organisation, parameters }) => {
  const { terms, parsed, rows, asOf } = await toldWatchlist(database, organisation, parameters)
  return watchlistTold(rows, { view: parsed.view, terms, asOf })
}
