import type { WatchlistRow as Row } from '@/lib/store/read/watchlist'
import type { WatchlistColumn } from '@/lib/store/read/watchlist-query'
import { ChanceScale } from '../ui/chance-dot'
import { Link } from '../ui/link'
import { SortArrow } from '../ui/sort-heading'
import { COLUMNS, horizonWords, slotWords } from '../ui/words'
import { HiddenView } from './hidden-view'
import { LongRows } from './long-rows'
import type { PageView } from './page-view'
import { SelectionBar } from './selection-bar'
import { addressOf, sortedBy, thenBy } from './view'
import { WatchlistRow } from './watchlist-row'
import styles from './watchlist-table.module.css'

type Props = PageView & {
  rows: Row[]
  /** How many there are in all. */
  total: number
  /** Where the rows begin; null where the list is scrolled. */
  from: number | null
  /** Of the scores that the rows were read from. */
  version: string
}

/** The list, whole or the part of it that is there; what is ticked in it can be taken along. */
export function WatchlistTable({ rows, total, from, version, ...page }: Props) {
  const { view, terms, ownDistance } = page
  const whole = rows.length === total
  const first = (from ?? 0) + 2
  return (
    <form method="get" action="/watchlist.csv" className={styles.form}>
      <HiddenView {...page} but={['only']} />
      <SelectionBar />
      <table
        className={styles.table}
        data-density={view.density}
        aria-rowcount={whole ? undefined : total + 1}
      >
        <caption className="for-ears">
          {view.per === 'vehicle'
            ? 'Vehicles, what is advised for them, and the weak point that leads.'
            : 'Weak points, each of one vehicle, and what is advised for them.'}{' '}
          Column headings sort; with Shift they sort what is equal in the first column. Rows that are equal in
          both stand by vehicle number.
        </caption>
        <thead>
          <tr aria-rowindex={whole ? undefined : 1}>
            {view.columns.map((column) => (
              <Heading key={column} {...page} column={column} />
            ))}
          </tr>
        </thead>
        {whole || from !== null ? (
          <tbody>
            {rows.map((row, i) => (
              <WatchlistRow key={keyOf(row)} {...page} row={row} index={whole ? undefined : first + i} />
            ))}
          </tbody>
        ) : (
          // Another view is another list, and so are other scores: what was scrolled to of this one is no part of it.
          <LongRows
            key={`${addressOf(view, ownDistance)} ${version}`}
            told={{ view, terms }}
            first={{ rows, version }}
            total={total}
            address={addressOf(view, ownDistance, '/watchlist-rows')}
          />
        )}
      </table>
    </form>
  )
}

const keyOf = ({ unit, weakPoint, position }: Row) => `${unit} ${weakPoint} ${position}`

function Heading({ view, terms, ownDistance, column }: PageView & { column: WatchlistColumn }) {
  const place = view.sort.findIndex((key) => key.column === column)
  const direction = view.sort[place]?.descending ? 'descending' : 'ascending'
  return (
    <th scope="col" data-column={column} aria-sort={place === 0 ? direction : undefined}>
      <Link
        href={addressOf(sortedBy(view, column), ownDistance)}
        data-then={addressOf(thenBy(view, column), ownDistance)}
        title={COLUMNS[column].meaning}
        scroll={false}
      >
        {heading(column, view.horizonDays, terms.slotDays)}
        <SortArrow direction={place === -1 ? null : direction} second={place > 0} />
        {place === 1 && <span className="for-ears">, sorted second, {direction}</span>}
      </Link>
      {column === 'chance' && <ChanceScale />}
    </th>
  )
}

/** Some headings say how far they look. */
function heading(column: WatchlistColumn, horizonDays: number, slotDays: number): string {
  if (column === 'chance') return `Chance within ${horizonWords(horizonDays)}`
  if (column === 'combined') return `Any of them within ${horizonWords(horizonDays)}`
  if (column === 'waiting') return `Waiting ${slotWords(slotDays)}`
  return COLUMNS[column].heading
}
