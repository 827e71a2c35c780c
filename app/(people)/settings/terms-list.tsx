import type { Terms } from '@/lib/store/read/terms'
import { DISTANCE_WORDS, VEHICLE_NUMBER } from '../../ui/words'
import styles from './settings.module.css'

/** The organisation's terms, for those who do not change them. */
export function TermsList({ terms }: { terms: Terms }) {
  const lines = [
    ['Name', terms.name],
    ['Currency', terms.currency ?? 'none'],
    ['Distances in', DISTANCE_WORDS[terms.distance]],
    ['A vehicle goes by its', VEHICLE_NUMBER[terms.vehicleNumber]],
    ['Numbers and dates as in', terms.locale],
    ['Time zone', terms.timeZone],
  ] as const
  return (
    <>
      <dl className={styles.terms}>
        {lines.map(([term, value]) => (
          <div key={term}>
            <dt>{term}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <p className={styles.note}>The owner of the organisation can change them.</p>
    </>
  )
}
