import type { Formats } from '../../../../ui/formats'
import { Link } from '../../../../ui/link'
import styles from '../../families.module.css'
import { draftAddress } from '../open-draft'
import type { Stated } from './weak-points-step'

/** The versions of the engine in which some part lasts longer, less long, or is not there. */
export function VersionsStep({ id, family: { weakPoints, variants = [] }, formats }: Stated) {
  const touched = (key: string) => weakPoints.filter((point) => point.variants?.[key] !== undefined).length
  return (
    <section className={styles.step} aria-labelledby="engine-versions">
      <h2 id="engine-versions">Versions of the engine, if parts last otherwise in them</h2>
      <ul>
        {variants.map(({ key, name = key, retired }) => (
          <li key={key}>
            <Link href={draftAddress(id, `versions/${encodeURIComponent(key)}`)}>{name}</Link>,{' '}
            {touchedWords(touched(key), formats)}
            {retired && '; kept for old records alone'}
          </li>
        ))}
      </ul>
      <p>
        <Link className={styles.act} href={draftAddress(id, 'versions/new')}>
          {variants.length === 0 ? 'State a version of the engine' : 'State another version of the engine'}
        </Link>
      </p>
    </section>
  )
}

function touchedWords(weakPoints: number, formats: Formats): string {
  if (weakPoints === 0) return 'makes no difference yet'
  return `makes a difference to ${formats.count(weakPoints)} weak point${weakPoints === 1 ? '' : 's'}`
}
