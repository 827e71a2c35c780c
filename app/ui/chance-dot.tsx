import type { Standing } from '@/lib/store/standing'
import styles from './chance-dot.module.css'
import { onScale, SCALE_MARKS, SCALE_WIDTH } from './chance-scale'
import { chanceInBand, frequency } from './chance-words'
import type { Formats } from './formats'

const MARGIN = 6
const GRID = SCALE_MARKS.map(({ chance }) => `M${onScale(chance)} 0V20`).join('')
const VIEW_BOX = `${-MARGIN} 0 ${SCALE_WIDTH + 2 * MARGIN} 20`

type Props = { pFail: number; pLow: number; pHigh: number; standing: Standing; formats: Formats }

/** A chance as a dot in its band, on the scale that every row shares; the words say the same. */
export function ChanceDot({ pFail, pLow, pHigh, standing, formats }: Props) {
  const words = chanceInBand({ pFail, pLow, pHigh }, formats.count)
  const [low, high] = [onScale(pLow), onScale(pHigh)]
  return (
    <data className={styles.chance} value={pFail} title={words} data-low={pLow} data-high={pHigh}>
      <svg className={styles.scale} viewBox={VIEW_BOX} preserveAspectRatio="none" aria-hidden="true">
        <path className={styles.grid} d={GRID} />
      </svg>
      <svg className={styles.dot} data-standing={standing} viewBox={VIEW_BOX} aria-hidden="true">
        <rect className={styles.band} x={low - 2} y="7" width={high - low + 4} height="6" rx="3" />
        <circle className={styles.point} cx={onScale(pFail)} cy="10" r="4.25" />
      </svg>
      <span className={styles.words} aria-hidden="true">
        {frequency(pFail, formats.count)}
      </span>
      <span className="for-ears">{words}</span>
    </data>
  )
}

/** The scale's marks in words, for the head of the column. */
export function ChanceScale() {
  return (
    <svg className={styles.legend} viewBox={VIEW_BOX} aria-hidden="true">
      {SCALE_MARKS.map(({ chance, label }) => (
        <text key={chance} x={onScale(chance)} y="14" textAnchor="middle">
          {label}
        </text>
      ))}
    </svg>
  )
}
