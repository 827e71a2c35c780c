import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import { countStaleVehicles } from '@/lib/store/read/stale-vehicles'
import { withOrganisation } from '@/lib/store/with-organisation'
import type { Formats } from '../ui/formats'
import { BEING_SCORED, countWord } from '../ui/words'
import styles from './watchlist.module.css'

type Props = { database: Database; organisation: OrganisationId; formats: Formats }

/** How many vehicles' numbers do not rest on the latest records yet. It is counted while the list is seen already. */
export async function BeingScored({ database, organisation, formats }: Props) {
  const count = await withOrganisation(database, organisation, async (scope) => {
    const ground = await readScoringGround(scope, new Date())
    return ground ? countStaleVehicles(scope, ground) : 0
  })
  if (count === 0) return null
  return (
    <p className={styles.notice} role="status">
      {countWord(count, formats.count)} {count === 1 ? 'vehicle is' : 'vehicles are'} {BEING_SCORED}; until
      then {count === 1 ? 'its' : 'their'} numbers are those of the last time.
    </p>
  )
}
