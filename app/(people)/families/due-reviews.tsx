import type { DueReview } from '@/lib/records/due-reviews'
import type { Formats } from '../../ui/formats'
import { REVIEW_DUE } from '../../ui/library-words'
import { Link } from '../../ui/link'
import styles from './families.module.css'

/** What was to be looked at again by now. */
export function DueReviews({ due, formats }: { due: DueReview[]; formats: Formats }) {
  if (due.length === 0) return null
  return (
    <section className={styles.unknown} aria-labelledby="reviews">
      <h2 id="reviews">{REVIEW_DUE}</h2>
      <ul>
        {due.map(({ family, weakPoint, reviewBy }) => (
          <li key={`${family.key} ${weakPoint?.key}`}>
            <Link
              href={`/families/${encodeURIComponent(family.key)}${weakPoint ? `#${encodeURIComponent(weakPoint.key)}` : ''}`}
            >
              {family.name}
              {weakPoint && `: ${weakPoint.component}`}
            </Link>
            , by {formats.day(reviewBy)}
          </li>
        ))}
      </ul>
    </section>
  )
}
