import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import type { ChosenFamily } from '@/lib/jobs/open-taking'
import { familyDifferences } from '@/lib/records/library-differences'
import type { Formats } from '../../../../../ui/formats'
import { Frame } from '../../../../../ui/frame'
import { KeptForm } from '../../../../../ui/kept-form'
import { CONFIDENCE } from '../../../../../ui/library-words'
import { Link } from '../../../../../ui/link'
import { TAKE_IN } from '../../../../../ui/page-words'
import { thingWords } from '../../../difference-words'
import { Differences } from '../../../differences'
import styles from '../../../families.module.css'
import { lifeSentence } from '../../../sentences'
import { putTakenInForce } from '../../actions'
import { openTakingPage } from '../../open-taking-page'
import { takingAddress } from '../../taking-address'
import { TakingHead } from '../../taking-head'

export const metadata: Metadata = { title: TAKE_IN }

/** What would be in force, before it is. */
export default async function PreviewPage({ params }: { params: Promise<{ taking: string }> }) {
  const { taking: id } = await params
  const { taking, chosen, formats } = await openTakingPage(id)
  if (!chosen) redirect(takingAddress(id))
  const { next, merged, errors, seal } = chosen
  const decided = merged !== null && merged.changes.length > 0
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <TakingHead
        title={`${next.name} from “${taking.source}”`}
        back={
          decided
            ? { address: takingAddress(id, 'decide'), words: 'Yours and theirs' }
            : { address: takingAddress(id), words: `From “${taking.source}”` }
        }
      />
      <section className={styles.step} aria-labelledby="changes">
        <h2 id="changes">{chosen.mine ? 'What changes here' : 'What is new here'}</h2>
        <WhatChanges chosen={chosen} formats={formats} />
        <Told title="Kept for the records that name it" things={merged?.retired ?? []} />
        <Told title="Left out, because what it belongs to is" things={merged?.lost ?? []} />
      </section>
      {errors.length > 0 ? (
        <section className={styles.step} aria-labelledby="wrong">
          <h2 id="wrong">It cannot come into force like this</h2>
          <ul>
            {errors.map(({ place, message }) => (
              <li key={`${place} ${message}`}>
                {place}: {message}
              </li>
            ))}
          </ul>
          {decided && <Link href={takingAddress(id, 'decide')}>Decide otherwise</Link>}
        </section>
      ) : (
        <section className={styles.step} aria-labelledby="in-force">
          <h2 id="in-force">Put it in force</h2>
          <p>
            It becomes part of a new version of the library, and every vehicle with this engine is scored by
            it. The version before can be put in force again at any time.
          </p>
          <KeptForm action={putTakenInForce.bind(null, id, seal)} submit="Put it in force" />
        </section>
      )}
    </Frame>
  )
}

function WhatChanges({ chosen: { mine, next }, formats }: { chosen: ChosenFamily; formats: Formats }) {
  if (mine) {
    const differences = familyDifferences(mine, next)
    return differences.length === 0 ? (
      <p>Nothing: what you state stands as it is. From now on, only what they change after this is news.</p>
    ) : (
      <Differences differences={differences} formats={formats} />
    )
  }
  return (
    <ul className={styles.differences}>
      {next.weakPoints.map((point) => (
        <li key={point.key}>
          <strong>{point.component}</strong> {lifeSentence(point, formats)} How sure:{' '}
          {CONFIDENCE[point.confidence].word}.
        </li>
      ))}
    </ul>
  )
}

function Told({ title, things }: { title: string; things: readonly Parameters<typeof thingWords>[0][] }) {
  if (things.length === 0) return null
  return (
    <>
      <h3>{title}</h3>
      <ul>
        {things.map((thing) => (
          <li key={thingWords(thing)}>{thingWords(thing)}</li>
        ))}
      </ul>
    </>
  )
}
