import Link from 'next/link'
import { ADVICE } from '../ui/words'
import type { PageView } from './page-view'
import { addressOf } from './view'
import styles from './watchlist.module.css'

/** An organisation whose vehicles have no scores: no vehicles, no library, or scoring has not ended yet. */
export function NoScores() {
  return (
    <div className={styles.empty}>
      <h2>No vehicle has been scored yet</h2>
      <p>The watchlist fills as soon as there are vehicles, and a library that knows their engines:</p>
      <ul>
        <li>
          <Link href="/intake">Bring in records</Link>: files of vehicles, readings, codes, looks and repairs
        </li>
        <li>
          <Link href="/families">State a first engine family</Link>: which parts of it go, and by when
        </li>
      </ul>
    </div>
  )
}

/** Filters that leave nothing: which ones, and the way out of each. */
export function NothingFound({ view, ownDistance }: PageView) {
  const advice = view.standings.map((standing) => ADVICE[standing]).join('” or “')
  const [searched, advised] = [view.search !== '', view.standings.length > 0]
  return (
    <div className={styles.empty}>
      <h2>
        No vehicle{searched && ` matches “${view.search}”`}
        {advised && `${searched ? ' among those' : ' is'} marked “${advice}”`}
      </h2>
      <ul>
        {searched && advised && (
          <>
            <li>
              <Link href={addressOf({ ...view, standings: [] }, ownDistance)}>Search all vehicles</Link>
            </li>
            <li>
              <Link href={addressOf({ ...view, search: '' }, ownDistance)}>Drop the search</Link>
            </li>
          </>
        )}
        <li>
          <Link href={addressOf({ ...view, search: '', standings: [] }, ownDistance)}>Show all vehicles</Link>
        </li>
      </ul>
    </div>
  )
}
