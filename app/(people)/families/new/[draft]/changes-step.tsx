import type { Difference } from '@/lib/records/library-differences'
import type { Formats } from '../../../../ui/formats'
import { Differences } from '../../differences'
import styles from '../../families.module.css'

/** What the draft of a family says otherwise than the one in force. */
export function ChangesStep({ changes, formats }: { changes: readonly Difference[]; formats: Formats }) {
  return (
    <section className={styles.step} aria-labelledby="changes">
      <h2 id="changes">What it changes</h2>
      {changes.length === 0 ? (
        <p>Nothing yet: it says what is in force.</p>
      ) : (
        <Differences differences={changes} formats={formats} />
      )}
    </section>
  )
}
