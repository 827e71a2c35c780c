import type { Family, Sign } from '@/lib/records/library'
import { SIGN_KINDS } from '../../../ui/library-words'
import { STOP_ORDERS } from '../../../ui/words'
import styles from '../families.module.css'

/** How each sign is looked for. */
export function SignsToLookFor({ family: { signs } }: { family: Family }) {
  if (signs.length === 0) return null
  return (
    <section className={styles.signs} aria-labelledby="how-to-look">
      <h2 id="how-to-look">How to look for them</h2>
      <dl className={styles.looks}>
        {signs.map((sign) => (
          <div key={sign.key}>
            <dt>{sign.label}</dt>
            <dd>
              <span className={styles.soft}>{whatItIs(sign)}.</span> {sign.how}{' '}
              {sign.stop && <strong className={styles.stop}>Whoever sees it: {STOP_ORDERS}</strong>}
            </dd>
          </div>
        ))}
      </dl>
    </section>
  )
}

function whatItIs({ kind, codes, lamp, zone }: Sign): string {
  return [
    SIGN_KINDS[kind] + (codes.length > 0 ? ` ${codes.join(', ')}` : ''),
    lamp && 'lights the engine lamp',
    zone,
  ]
    .filter(Boolean)
    .join('; ')
}
