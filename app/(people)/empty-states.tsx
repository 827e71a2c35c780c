import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readRescoring } from '@/lib/store/read/rescoring'
import { withOrganisation } from '@/lib/store/with-organisation'
import { Link } from '../ui/link'
import { starterFor } from './families/new/starter-address'
import { STARTER } from './families/new/starter-words'
import { filtersOf, without } from './filter-chips'
import type { PageView } from './page-view'
import { addressOf, unfiltered } from './view'
import styles from './watchlist.module.css'

/** An organisation whose vehicles have no scores: they are being made, or there are no vehicles, or no library. */
export async function NoScores(props: { database: Database; organisation: OrganisationId }) {
  const { database, organisation } = props
  const far = await withOrganisation(database, organisation, (scope) => readRescoring(scope, new Date()))
  if (far !== null)
    return (
      <div className={styles.empty}>
        <h2>The vehicles are being scored for the first time</h2>
        <p>They are listed here as soon as the first of them are done; the page looks again by itself.</p>
      </div>
    )
  return (
    <div className={styles.empty}>
      <h2>No vehicle has been scored yet</h2>
      <p>
        The watchlist fills as vehicles are scored. That needs vehicles, and a library that knows their
        engines:
      </p>
      <ul>
        <li>
          <Link href="/intake">Bring in records</Link>: files of vehicles, readings, codes, looks and repairs
        </li>
        <li>
          <Link href="/families">State a first engine family</Link>: which parts of it go, and by when
        </li>
        <li>
          <Link href={starterFor()}>{STARTER}</Link>: a first engine, for whoever knows it by heart
        </li>
      </ul>
    </div>
  )
}

/** Filters that leave nothing: which ones, and the way out of each. */
export function NothingFound({
  view,
  ownDistance,
  engines,
}: PageView & { engines: ReadonlyMap<string, string> }) {
  const filters = filtersOf(view, engines)
  return (
    <div className={styles.empty}>
      <h2>
        These filters leave no {view.per === 'vehicle' ? 'vehicle' : 'weak point'}:{' '}
        {filters.map(({ words }) => words).join('; ')}
      </h2>
      <ul>
        {filters.length > 1 &&
          filters.map(({ field, words }) => (
            <li key={field}>
              <Link href={addressOf(without(view, field), ownDistance)}>Drop: {words}</Link>
            </li>
          ))}
        <li>
          <Link href={addressOf(unfiltered(view), ownDistance)}>Show all</Link>
        </li>
      </ul>
    </div>
  )
}
