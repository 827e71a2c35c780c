import styles from './driver.module.css'
import { REFUSED, STOP_AT_ONCE } from './driver-words'

/** A label that nobody made, or that was made anew since. */
export default function NoSuchLabel() {
  return (
    <main className={styles.page}>
      <h1>{REFUSED.gone}</h1>
      <div className={styles.stop}>
        <p>If {STOP_AT_ONCE.when.join(', or ')}:</p>
        <p>{STOP_AT_ONCE.what}</p>
      </div>
    </main>
  )
}
