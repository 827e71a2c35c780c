import type { Metadata } from 'next'
import type { FamilyDraft } from '@/lib/intake/family-draft'
import { readLibraryDrafts } from '@/lib/store/read/library-drafts'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../../require-person'
import { Frame } from '../../../../ui/frame'
import { Link } from '../../../../ui/link'
import styles from '../../families.module.css'
import type { SearchParameters } from '../../told-in'
import { beginStarter } from '../actions'
import { EngineSection } from '../engine-section'
import { draftAddress } from '../open-draft'
import { starterAddress } from '../starter-address'
import { STARTER } from '../starter-words'

export const metadata: Metadata = { title: STARTER }

/** The beginning of the short way: which engine it is. */
export default async function StarterPage({ searchParams }: { searchParams: Promise<SearchParameters> }) {
  const { database, organisation } = await requirePerson('edit-library')
  const drafts = await withOrganisation(database, organisation, readLibraryDrafts)
  const { family } = await searchParams
  const named = typeof family === 'string' && family.trim() !== '' ? family.trim() : null
  const begun = drafts.filter((draft) => named === null || keyOf(draft) === named)
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href="/families">Engine families</Link>
      </p>
      <h1 className={styles.title}>{STARTER}</h1>
      <p className={styles.lead}>
        For whoever knows an engine by heart: which five of its parts go, by when, and what shows it, each on
        one short form. What you do not know, leave empty; what is taken in its place is said. It is kept as
        you go, and counts once you put it in force. Everything can be said more exactly later.
      </p>
      {begun.length > 0 && (
        <section className={styles.step} aria-labelledby="begun">
          <h2 id="begun">Begun and not in force yet</h2>
          <ul>
            {begun.map((draft) => (
              <li key={draft.id}>
                <Link href={draftAddress(draft.id, starterAddress.summary)}>Go on with {nameOf(draft)}</Link>
              </li>
            ))}
          </ul>
        </section>
      )}
      <EngineSection named={named} action={beginStarter} submit="On to the first weak point" />
    </Frame>
  )
}

const keyOf = ({ family }: { family: unknown }) => (family as FamilyDraft).key
const nameOf = ({ family }: { family: unknown }) =>
  (family as FamilyDraft).name ?? (family as FamilyDraft).key
