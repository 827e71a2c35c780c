import { NO_CAUTIONS } from '../../../ui/library-words'
import styles from '../families.module.css'

/** What whoever does the job on a weak point has to mind; that nothing is recorded is said as well. */
export function CautionList({ cautions }: { cautions: readonly string[] }) {
  if (cautions.length === 0) return <p>{NO_CAUTIONS}</p>
  return (
    <ul className={styles.cautions}>
      {cautions.map((caution) => (
        <li key={caution}>{caution}</li>
      ))}
    </ul>
  )
}
