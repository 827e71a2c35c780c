import type { Metadata } from 'next'
import { Frame } from '../../../../ui/frame'
import { KeptForm } from '../../../../ui/kept-form'
import { Link } from '../../../../ui/link'
import styles from '../../families.module.css'
import { dropDraft, putInForce } from '../actions'
import { draftAddress, openDraft } from '../open-draft'
import { ChangesStep } from './changes-step'
import { LinksStep } from './links-step'
import { SignsStep } from './signs-step'
import { TryStep } from './try-step'
import { VersionsStep } from './versions-step'
import { WeakPointsStep } from './weak-points-step'

export const metadata: Metadata = { title: 'State an engine family' }

/** A family as far as it has been stated, and what can be said next. */
export default async function DraftPage({ params }: { params: Promise<{ draft: string }> }) {
  const { draft: id } = await params
  const { family, formats, changes, changedAt, replay } = await openDraft(id)
  const stated = { id, family, formats }
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href="/families/new">State an engine family</Link>
      </p>
      <h1 className={styles.title}>{family.name}</h1>
      <p className={styles.lead}>
        {formats.count(family.cylinders)} cylinder{family.cylinders === 1 ? '' : 's'}. Kept as a draft; it
        counts once it is in force{changes && ', in the place of what is stated of this engine now'}.{' '}
        <Link href={draftAddress(id, 'engine')}>
          Change its name, its cylinders, or what is reached together
        </Link>
      </p>
      <WeakPointsStep {...stated} />
      {family.weakPoints.length > 0 && <SignsStep {...stated} />}
      {family.weakPoints.length > 1 && <LinksStep {...stated} />}
      {family.weakPoints.length > 0 && <VersionsStep {...stated} />}
      {changes && <ChangesStep changes={changes} formats={formats} />}
      {replay && family.weakPoints.length > 0 && <TryStep {...{ id, replay, changedAt, formats }} />}
      <section className={styles.step} aria-labelledby="in-force">
        <h2 id="in-force">Put it in force</h2>
        {family.weakPoints.length === 0 ? (
          <p>State at least one weak point first.</p>
        ) : (
          <>
            <p>
              It becomes part of a new version of the library, and every vehicle with this engine is scored by
              it.
            </p>
            <KeptForm action={putInForce.bind(null, id)} submit="Put it in force">
              {null}
            </KeptForm>
          </>
        )}
      </section>
      <details className={styles.remove}>
        <summary>Drop this draft</summary>
        <form action={dropDraft.bind(null, id)}>
          <p>What was stated here is then gone.</p>
          <button type="submit" className={styles.act}>
            Drop it
          </button>
        </form>
      </details>
    </Frame>
  )
}
