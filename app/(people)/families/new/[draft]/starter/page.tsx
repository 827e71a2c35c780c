import type { Metadata } from 'next'
import { Frame } from '../../../../../ui/frame'
import { KeptForm } from '../../../../../ui/kept-form'
import { Link } from '../../../../../ui/link'
import { CAUTION, countWord } from '../../../../../ui/words'
import styles from '../../../families.module.css'
import { putInForce } from '../../actions'
import { draftAddress, openDraft } from '../../open-draft'
import { starterAddress } from '../../starter-address'
import { STARTER_POINTS } from '../../starter-words'
import { PointSaid } from './point-said'
import { VehiclesAhead } from './vehicles-ahead'

export const metadata: Metadata = { title: 'What is stated, and what follows' }

/** The end of the short way: what was stated, what follows for the vehicles, and putting it in force. */
export default async function StarterSummaryPage({ params }: { params: Promise<{ draft: string }> }) {
  const { draft: id } = await params
  const { family, terms, formats } = await openDraft(id)
  const { weakPoints } = family
  const stated = weakPoints.length
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href="/families">Engine families</Link>
      </p>
      <h1 className={styles.title}>
        {family.name}: {countWord(stated, formats.count)} weak point{stated === 1 ? '' : 's'} stated
      </h1>
      <p className={styles.lead}>
        Read it over: this is what was understood. It is kept as a draft and counts once it is in force.
      </p>
      {weakPoints.map((point) => (
        <section key={point.key} className={styles.step} aria-labelledby={`point-${point.key}`}>
          <h2 id={`point-${point.key}`}>{point.component}</h2>
          <PointSaid {...{ id, family, point, formats }} distance={terms.distance} />
        </section>
      ))}
      <p className={styles.acts}>
        <Link className={styles.act} href={draftAddress(id, starterAddress.next())}>
          {nextWords(stated)}
        </Link>
      </p>
      {stated > 0 && (
        <>
          <VehiclesAhead {...{ family, formats }} />
          <section className={styles.step} aria-labelledby="in-force">
            <h2 id="in-force">Put it in force</h2>
            <p>
              It becomes part of a new version of the library, and every vehicle with this engine is scored by
              it. To undo it, go back to the version before on the page of the engine families.
            </p>
            <p className={styles.caution}>{CAUTION}</p>
            <KeptForm action={putInForce.bind(null, id)} submit="Put it in force">
              {null}
            </KeptForm>
          </section>
        </>
      )}
      <p className={styles.acts}>
        <Link href={draftAddress(id)}>
          Say more of it: several signs, versions of parts, what damages what, or drop it
        </Link>
      </p>
    </Frame>
  )
}

const nextWords = (stated: number) =>
  stated < STARTER_POINTS ? `State weak point ${stated + 1} of ${STARTER_POINTS}` : 'State another weak point'
