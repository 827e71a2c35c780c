import { Link } from '../ui/link'
import type { PageView } from './page-view'
import { addressOf } from './view'
import styles from './watchlist.module.css'
import { ROWS_AT_ONCE } from './window-size'

type Props = PageView & { total: number; from: number | null }

/** What the browser's own find and print have of a long list, and the ways to all of it. */
export function LongListNote({ total, from, view, ownDistance, formats }: Props) {
  const page = (start: number) => addressOf(view, ownDistance, '/', { from: start })
  if (from === null)
    return (
      <p className={styles.note}>
        Rows come as you scroll, so the browser’s own find and print have only those near. Find with the box
        above, take all as CSV, or <Link href={page(0)}>leaf through page by page</Link>.
      </p>
    )
  const to = Math.min(total, from + ROWS_AT_ONCE)
  return (
    <nav className={styles.note} aria-label="Pages of the list">
      Rows {formats.count(Math.min(from + 1, total))} to {formats.count(to)} of {formats.count(total)}.{' '}
      {from > 0 && (
        <>
          <Link href={page(Math.max(0, from - ROWS_AT_ONCE))}>The {ROWS_AT_ONCE} before</Link>,{' '}
        </>
      )}
      {to < total && (
        <>
          <Link href={page(to)}>the next {ROWS_AT_ONCE}</Link>, or{' '}
        </>
      )}
      <Link href={addressOf(view, ownDistance)}>scroll through all</Link>.
    </nav>
  )
}
