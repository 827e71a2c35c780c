import type { FamilyDraft } from '@/lib/intake/family-draft'
import type { Formats } from '../../../../ui/formats'
import { CONFIDENCE } from '../../../../ui/library-words'
import { Link } from '../../../../ui/link'
import styles from '../../families.module.css'
import { lifeSentence } from '../../sentences'
import { draftAddress } from '../open-draft'

export type Stated = { id: string; family: FamilyDraft; formats: Formats }

/** The weak points that are stated, each said back. */
export function WeakPointsStep({ id, family: { weakPoints }, formats }: Stated) {
  return (
    <section className={styles.step} aria-labelledby="weak-points">
      <h2 id="weak-points">Weak points: which parts go, and by when</h2>
      <ul>
        {weakPoints.map((weakPoint) => {
          const { key, component, clock = 'distance', onset, warning, confidence } = weakPoint
          return (
            <li key={key}>
              <Link href={draftAddress(id, `weak-points/${encodeURIComponent(key)}`)}>{component}</Link>
              <p>
                {lifeSentence({ clock, onset, warning }, formats)} How sure: {CONFIDENCE[confidence].word}.
              </p>
            </li>
          )
        })}
      </ul>
      <p>
        <Link className={styles.act} href={draftAddress(id, 'weak-points/new')}>
          {weakPoints.length === 0 ? 'State the first weak point' : 'State another weak point'}
        </Link>
      </p>
    </section>
  )
}
