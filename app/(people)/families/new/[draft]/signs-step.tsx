import { SIGN_KINDS } from '../../../../ui/library-words'
import { Link } from '../../../../ui/link'
import styles from '../../families.module.css'
import { draftAddress } from '../open-draft'
import type { Stated } from './weak-points-step'

/** The signs that are stated, and what is left without any. */
export function SignsStep({ id, family: { weakPoints, signs = [] } }: Stated) {
  const shown = new Set(signs.flatMap(({ causes = [] }) => causes.map(({ weakPoint }) => weakPoint)))
  const silent = weakPoints.filter(({ key }) => !shown.has(key)).map(({ component }) => component)
  return (
    <section className={styles.step} aria-labelledby="signs">
      <h2 id="signs">Signs: what shows that a part is going</h2>
      <ul>
        {signs.map(({ key, label, kind }) => (
          <li key={key}>
            <Link href={draftAddress(id, `signs/${encodeURIComponent(key)}`)}>{label}</Link>,{' '}
            {SIGN_KINDS[kind]}
          </li>
        ))}
      </ul>
      {silent.length > 0 && (
        <p>
          Nothing shows yet: {silent.join(', ')}. Without signs, distance and repairs alone speak for a part.
        </p>
      )}
      <p>
        <Link className={styles.act} href={draftAddress(id, 'signs/new')}>
          {signs.length === 0 ? 'State the first sign' : 'State another sign'}
        </Link>
      </p>
    </section>
  )
}
