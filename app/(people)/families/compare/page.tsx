import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { can } from '@/lib/people/permissions'
import { parseLibrary } from '@/lib/records/library'
import { libraryDifferences } from '@/lib/records/library-differences'
import { readLibraryVersion, readLibraryVersions } from '@/lib/store/read/library-versions'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../../require-person'
import { Frame } from '../../../ui/frame'
import { KeptForm } from '../../../ui/kept-form'
import { Link } from '../../../ui/link'
import { CompareForm } from '../compare-form'
import { Differences } from '../differences'
import styles from '../families.module.css'
import { type SearchParameters, toldIn } from '../told-in'
import { putAgain } from './actions'

export const metadata: Metadata = { title: 'Two versions of the library' }

/** What one version of the library says differently from another. */
export default async function ComparePage({ searchParams }: { searchParams: Promise<SearchParameters> }) {
  const asked = await searchParams
  const { database, organisation, role } = await requirePerson()
  const { terms, versions, from, to } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    versions: await readLibraryVersions(scope),
    from: await readLibraryVersion(scope, versionIn(asked.from)),
    to: await readLibraryVersion(scope, versionIn(asked.to)),
  }))
  if (!from || !to) notFound()
  const [before, after] = [versionIn(asked.from), versionIn(asked.to)]
  const here = `/families/compare?from=${before}&to=${after}`
  const { formats } = toldIn(asked, terms, here)
  const [old, next] = [parseLibrary(from.content), parseLibrary(to.content)]
  const differences = old.ok && next.ok ? libraryDifferences(old.library, next.library) : null
  const enteredOn = (version: number) => {
    const entered = versions.find((each) => each.version === version)?.enteredAt
    return entered ? ` of ${formats.day(dayIn(terms.timeZone, entered))}` : ''
  }
  const inForce = versions.find((each) => each.inForce)?.version
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href="/families#versions">Engine families</Link>
      </p>
      <h1 className={styles.title}>
        Version {formats.count(after)} against version {formats.count(before)}
      </h1>
      <p className={styles.lead}>
        What version {formats.count(after)}
        {enteredOn(after)} says otherwise than version {formats.count(before)}
        {enteredOn(before)}.
      </p>
      {differences === null && (
        <p>One of them is of an older form that cannot be read any more; take both along as files.</p>
      )}
      {differences?.length === 0 && <p>They say the same.</p>}
      {differences && <Differences differences={differences} formats={formats} />}
      {inForce !== after && can(role, 'edit-library') && differences !== null && (
        <section className={styles.step} aria-labelledby="again">
          <h2 id="again">Go back to version {formats.count(after)}</h2>
          <p>
            What it says becomes a new version of the library; what is in force now stays among the versions.
          </p>
          <KeptForm action={putAgain.bind(null, after)} submit={`Put version ${after} in force again`} />
        </section>
      )}
      <CompareForm versions={versions} from={before} to={after} formats={formats} />
    </Frame>
  )
}

/** No version has the number 0. */
const versionIn = (given: string | string[] | undefined): number =>
  typeof given === 'string' && /^\d{1,9}$/.test(given) ? Number(given) : 0
