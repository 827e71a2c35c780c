import type { Sign } from '@/lib/records/library'
import { STOP_ORDERS } from '../../ui/words'
import styles from './at.module.css'

/** What has to be said at once, when something was seen with which nobody must drive on. */
export function StopNow({ signs }: { signs: readonly Pick<Sign, 'key' | 'label'>[] }) {
  const seen = [...new Map(signs.map((sign) => [sign.key, sign.label])).values()]
  return (
    <div role="alert" className={seen.length > 0 ? styles.stop : undefined}>
      {seen.length > 0 && (
        <>
          <p>{STOP_ORDERS}</p>
          <p className={styles.why}>Seen: {seen.join(', ')}. Tell whoever drives it, now.</p>
        </>
      )}
    </div>
  )
}
