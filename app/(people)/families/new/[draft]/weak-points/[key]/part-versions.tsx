import type { WeakPointDraft } from '@/lib/intake/family-draft'
import type { Formats } from '../../../../../../ui/formats'
import { Link } from '../../../../../../ui/link'
import styles from '../../../../families.module.css'
import { lifeFactorWords } from '../../../../sentences'
import { draftAddress } from '../../../open-draft'

type Props = { id: string; weakPoint: WeakPointDraft; formats: Formats }

/** The versions of a part that are stated, each led to, and one more. */
export function PartVersions({ id, weakPoint: { key, revisions = [] }, formats }: Props) {
  const address = (version: string) =>
    draftAddress(id, `weak-points/${encodeURIComponent(key)}/versions/${encodeURIComponent(version)}`)
  return (
    <section className={styles.step} aria-labelledby="part-versions">
      <h2 id="part-versions">Versions of the part</h2>
      <p>Another make, a later number, a quick fix: what is fitted in place of the original.</p>
      <ul>
        {revisions.map(({ key: version, name = version, lifeFactor, temporary, retired }) => (
          <li key={version}>
            <Link href={address(version)}>{name}</Link> {lifeFactorWords(lifeFactor, formats)}
            {temporary && ', a quick fix'}
            {retired && '; kept for old records alone'}
          </li>
        ))}
      </ul>
      <p>
        <Link className={styles.act} href={address('new')}>
          {revisions.length === 0 ? 'State a version of the part' : 'State another version of the part'}
        </Link>
      </p>
    </section>
  )
}
