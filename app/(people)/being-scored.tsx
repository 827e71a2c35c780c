import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readRescoring } from '@/lib/store/read/rescoring'
import { withOrganisation } from '@/lib/store/with-organisation'
import type { Formats } from '../ui/formats'
import { WatchProgress } from './intake/watch-progress'
import styles from './watchlist.module.css'

type Props = {
  database: Database
  organisation: OrganisationId
  formats: Formats
  /** The address of the page, where it is to look again by itself, and without script by a link. */
  again?: string
}

/**
 * How many vehicles' numbers do not rest on the latest records yet, out of how many that did not. It is counted while
 * the rest of the page is seen already.
 */
export async function BeingScored({ database, organisation, formats, again }: Props) {
  const far = await withOrganisation(database, organisation, (scope) => readRescoring(scope, new Date()))
  if (far === null) return null
  const { done, total } = far
  return (
    <div className={styles.notice} role="status">
      <p>
        <progress max={total} value={done} aria-label="Vehicles scored anew" /> {formats.count(done)} of{' '}
        {formats.count(total)} {total === 1 ? 'vehicle' : 'vehicles'} scored anew; the others have the numbers
        of the last time, or none yet.
      </p>
      {again !== undefined && (
        <>
          <noscript>
            <a href={again}>See how far it is now</a>
          </noscript>
          <WatchProgress />
        </>
      )}
    </div>
  )
}
