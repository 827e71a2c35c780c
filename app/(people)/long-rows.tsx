'use client'

import { useRouter } from 'next/navigation'
import { memo, useMemo, useRef } from 'react'
import type { WatchlistRow as Row } from '@/lib/store/read/watchlist'
import { type PageView, pageView, type ToldView } from './page-view'
import { type ListPart, useParts } from './use-parts'
import { WatchlistRow } from './watchlist-row'
import styles from './watchlist-table.module.css'
import { ROWS_AT_ONCE } from './window-size'

type Props = { told: ToldView; first: ListPart; total: number; address: string }

/**
 * A list too long for one page: its parts are fetched as they come near, and let go when they are far again. Those that
 * are not there keep their room, so that the bar at the side scrolls over the whole list. Where a part comes from other
 * scores than the first, rows may stand twice or not at all, and the list says so.
 */
export function LongRows({ told, ...list }: Props) {
  const page = useMemo(() => pageView(told), [told])
  const foot = useRef<HTMLTableSectionElement>(null)
  const { shown, moved } = useParts(foot, list)
  const router = useRouter()
  return (
    <>
      {shown.map(({ from, rows, height }) =>
        rows ? (
          <Part key={from} page={page} rows={rows} from={from * ROWS_AT_ONCE} />
        ) : (
          <tbody key={`room ${from}`}>
            <tr className={styles.room} style={{ height }}>
              <td colSpan={page.view.columns.length} />
            </tr>
          </tbody>
        ),
      )}
      <tfoot ref={foot} className={styles.moved}>
        {moved && (
          <tr>
            <td colSpan={page.view.columns.length} role="status">
              Scores have changed since this list was begun.{' '}
              <button type="button" onClick={() => router.refresh()}>
                Show it anew
              </button>
            </td>
          </tr>
        )}
      </tfoot>
    </>
  )
}

/** Made once, whatever comes and goes around it. */
const Part = memo(function Part({ page, rows, from }: { page: PageView; rows: Row[]; from: number }) {
  return (
    <tbody>
      {rows.map((row, i) => (
        <WatchlistRow
          key={`${row.unit} ${row.weakPoint} ${row.position}`}
          {...page}
          row={row}
          index={from + i + 2}
        />
      ))}
    </tbody>
  )
})
