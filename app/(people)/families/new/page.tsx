import type { Metadata } from 'next'
import type { FamilyDraft } from '@/lib/intake/family-draft'
import { readLibraryDrafts } from '@/lib/store/read/library-drafts'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import { formatsFor } from '../../../ui/formats'
import { Frame } from '../../../ui/frame'
import { Link } from '../../../ui/link'
import styles from '../families.module.css'
import type { SearchParameters } from '../told-in'
import { beginFamily, beginWithExample } from './actions'
import { EngineSection } from './engine-section'
import { draftAddress } from './open-draft'
import { starterFor } from './starter-address'
import { STARTER } from './starter-words'

export const metadata: Metadata = { title: 'State an engine family' }

/** The beginning of a family: what it is called; or going on with one that was begun. */
export default async function NewFamilyPage({ searchParams }: { searchParams: Promise<SearchParameters> }) {
  const { database, organisation } = await requirePerson('edit-library')
  const { drafts, terms } = await withOrganisation(database, organisation, async (scope) => ({
    drafts: await readLibraryDrafts(scope),
    terms: await readTerms(scope),
  }))
  const { family } = await searchParams
  const named = typeof family === 'string' && family.trim() !== '' ? family.trim() : null
  const formats = formatsFor(terms, terms.distance)

  return (
    <Frame here="families" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href="/families">Engine families</Link>
      </p>
      <h1 className={styles.title}>State an engine family</h1>
      <p className={styles.lead}>
        Four steps: the engine; the parts of it that go, and by when; the signs that show it; what damages
        what. Say what you know, and how sure you are; what you do not know, leave out. Nothing counts until
        you put it in force, and you can leave and go on later.
      </p>
      <p className={styles.lead}>
        <Link href={named === null ? starterFor() : starterFor(named)}>{STARTER}</Link> is the short way: one
        form a weak point, and the same draft.
      </p>
      {drafts.length > 0 && (
        <section className={styles.step} aria-labelledby="begun">
          <h2 id="begun">Begun and not in force yet</h2>
          <ul>
            {drafts.map(({ id, family }) => (
              <li key={id}>
                <Link href={draftAddress(id)}>Go on with {nameOf(family as FamilyDraft)}</Link>,{' '}
                {formats.count((family as FamilyDraft).weakPoints.length)} weak points so far
              </li>
            ))}
          </ul>
        </section>
      )}
      <EngineSection named={named} action={beginFamily} submit="Begin" />
      <section className={styles.step} aria-labelledby="example">
        <h2 id="example">Or start from an example</h2>
        <p>A small invented engine with two weak points, to be changed into yours.</p>
        <form action={beginWithExample}>
          <button type="submit" className={styles.act}>
            Start from the example
          </button>
        </form>
      </section>
    </Frame>
  )
}

const nameOf = ({ key, name = key }: FamilyDraft) => name
