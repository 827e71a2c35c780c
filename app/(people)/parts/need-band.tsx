import type { PartNow } from '@/lib/jobs/parts-now'
import type { Formats } from '../../ui/formats'
import styles from './parts.module.css'
import { needWords } from './parts-words'

const WIDTH = 180
const MARGIN = 6

/** The need as a dot in its band, on one scale for all rows; the stroke is what is there and on order. */
export function NeedBand({ part, most, formats }: { part: PartNow; most: number; formats: Formats }) {
  const x = (count: number) => MARGIN + (Math.min(count, most) / most) * WIDTH
  const there = (part.stock?.onHand ?? 0) + (part.stock?.onOrder ?? 0)
  return (
    <>
      <svg className={styles.band} viewBox={`0 0 ${WIDTH + 2 * MARGIN} 20`} aria-hidden="true">
        <path className={styles.line} d={`M${x(0)} 10H${x(most)}`} />
        <rect
          className={styles.range}
          x={x(part.p10) - 2}
          y="7"
          width={x(part.p90) - x(part.p10) + 4}
          height="6"
          rx="3"
        />
        {part.stock && <path className={styles.there} d={`M${x(there)} 2V18`} />}
        <circle className={styles.dot} cx={x(part.mean)} cy="10" r="4.25" />
      </svg>
      <small>{needWords(part, formats)}</small>
    </>
  )
}
