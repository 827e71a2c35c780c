import type { Metadata } from 'next'
import { can } from '@/lib/people/permissions'
import { dueReviews } from '@/lib/records/due-reviews'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readLearning } from '@/lib/store/read/learning'
import { readLibraryVersions } from '@/lib/store/read/library-versions'
import { readTerms } from '@/lib/store/read/terms'
import { readVehiclesByFamily } from '@/lib/store/read/vehicles-by-family'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { Frame } from '../../ui/frame'
import { Link } from '../../ui/link'
import { TAKE_IN } from '../../ui/page-words'
import { TwinLinks } from '../../ui/twin-links'
import { DueReviews } from './due-reviews'
import styles from './families.module.css'
import { FamilyTable } from './family-table'
import { LearningState } from './learning'
import { LibraryUpload } from './library-upload'
import { LibraryVersions } from './library-versions'
import { starterFor } from './new/starter-address'
import { STARTER } from './new/starter-words'
import { type SearchParameters, toldIn } from './told-in'
import { UnknownFamilies } from './unknown-families'

export const metadata: Metadata = { title: 'Engine families' }

/** What the organisation knows of engines: each family, how sure that is, and what vehicles name beyond it. */
export default async function FamiliesPage({ searchParams }: { searchParams: Promise<SearchParameters> }) {
  const { database, organisation, role } = await requirePerson()
  const { terms, known, versions, vehicles, learning } = await withOrganisation(
    database,
    organisation,
    async (scope) => ({
      terms: await readTerms(scope),
      known: await readKnownLibrary(scope),
      versions: await readLibraryVersions(scope),
      vehicles: await readVehiclesByFamily(scope),
      learning: await readLearning(scope),
    }),
  )
  const { formats, choices } = toldIn(await searchParams, terms, '/families')
  const families = known?.library.families ?? []
  const unknown = [...vehicles].filter(([key]) => !families.some((family) => family.key === key))

  return (
    <Frame here="families" asOf={null} choices={choices}>
      <h1 className={styles.title}>Engine families</h1>
      {families.length === 0 ? (
        <p className={styles.lead}>
          Nothing is known of any engine yet, so no vehicle can be assessed. State the first family: which
          parts of it go, by when, and what shows it. A rough idea is enough to begin with, and says how sure
          it is.
        </p>
      ) : (
        <p className={styles.lead}>
          What this organisation knows of its engines: which parts go, by when, and what shows it. Every
          chance rests on this and on the vehicle’s own records.
        </p>
      )}
      {can(role, 'edit-library') && (
        <p className={styles.acts}>
          <Link className={styles.act} href="/families/new">
            State a family
          </Link>{' '}
          <Link className={styles.act} href={starterFor()}>
            {STARTER}
          </Link>{' '}
          <Link className={styles.act} href="/families/take-in">
            {TAKE_IN}
          </Link>
        </p>
      )}
      <UnknownFamilies unknown={unknown} formats={formats} />
      {known && (
        <DueReviews due={dueReviews(known.library, dayIn(terms.timeZone, new Date()))} formats={formats} />
      )}
      {families.length > 0 && (
        <>
          <FamilyTable families={families} vehicles={vehicles} formats={formats} />
          <p className={styles.acts}>
            <TwinLinks csv="/families.csv" of="the engine families" />
          </p>
        </>
      )}
      {families.length > 0 && (
        <LearningState learning={learning} mayAsk={can(role, 'edit-library')} formats={formats} />
      )}
      {can(role, 'edit-library') && can(role, 'bring-in-records') && <LibraryUpload />}
      {versions.length > 0 && (
        <LibraryVersions
          {...{ versions, formats }}
          timeZone={terms.timeZone}
          mayChange={can(role, 'edit-library')}
        />
      )}
    </Frame>
  )
}
