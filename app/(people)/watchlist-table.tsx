import Link from 'next/link'
import type { WatchlistRow as Row } from '@/lib/store/read/watchlist'
import { WATCHLIST_COLUMNS, type WatchlistColumn } from '@/lib/store/read/watchlist-query'
import { ChanceScale } from '../ui/chance-dot'
import { COLUMNS, horizonWords, slotWords } from '../ui/words'
import type { PageView } from './page-view'
import { addressOf, sortedBy } from './view'
import { WatchlistRow } from './watchlist-row'
import styles from './watchlist-table.module.css'

type Props = PageView & { rows: Row[]; slotDays: number }

export function WatchlistTable({ rows, slotDays, ...page }: Props) {
  return (
    <table className={styles.table}>
      <caption className="for-ears">
        Vehicles, what is advised for them, and the weak point that leads. Column headings sort; equal rows
        stand by cost of waiting, then by vehicle number.
      </caption>
      <thead>
        <tr>
          {WATCHLIST_COLUMNS.map((column) => (
            <Heading key={column} {...page} column={column} slotDays={slotDays} />
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <WatchlistRow key={row.unit} row={row} slotDays={slotDays} {...page} />
        ))}
      </tbody>
    </table>
  )
}

function Heading({
  view,
  ownDistance,
  column,
  slotDays,
}: PageView & { column: WatchlistColumn; slotDays: number }) {
  const sorted = view.sort === column
  const direction = view.descending ? 'descending' : 'ascending'
  return (
    <th scope="col" data-column={column} aria-sort={sorted ? direction : undefined}>
      <Link
        href={addressOf(sortedBy(view, column), ownDistance)}
        title={COLUMNS[column].meaning}
        scroll={false}
        prefetch={false}
      >
        {heading(column, view.horizonDays, slotDays)}
        <SortArrow direction={sorted ? direction : null} />
      </Link>
      {column === 'chance' && <ChanceScale />}
    </th>
  )
}

/** Two headings say how far they look. */
function heading(column: WatchlistColumn, horizonDays: number, slotDays: number): string {
  if (column === 'chance') return `Chance within ${horizonWords(horizonDays)}`
  if (column === 'waiting') return `Waiting ${slotWords(slotDays)}`
  return COLUMNS[column].heading
}

/** An arrow where the table is sorted, a pair of strokes where it could be. */
function SortArrow({ direction }: { direction: 'ascending' | 'descending' | null }) {
  const shape = {
    ascending: 'M2 8l3-5 3 5z',
    descending: 'M2 2l3 5 3-5z',
    none: 'M2.5 4L5 1.2 7.5 4M2.5 6L5 8.8 7.5 6',
  }
  return (
    <svg className={styles.arrow} data-direction={direction ?? 'none'} viewBox="0 0 10 10" aria-hidden="true">
      <path d={shape[direction ?? 'none']} />
    </svg>
  )
}
