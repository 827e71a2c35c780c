import { onScale, SCALE_MARKS, SCALE_WIDTH } from '../../../ui/chance-scale'
import styles from './why.module.css'

const MARGIN = 6
const GRID = SCALE_MARKS.map(({ chance }) => `M${onScale(chance)} 0V20`).join('')

type Props = {
  /** Where the step begins; null for the first. */
  from: number | null
  to: number
}

/** A step on the scale that every chance is drawn on: from a ring to a dot. The words beside it say the same. */
export function StepWalk({ from, to }: Props) {
  const end = onScale(to)
  const start = from === null ? end : onScale(from)
  return (
    <svg className={styles.walk} viewBox={`${-MARGIN} 0 ${SCALE_WIDTH + 2 * MARGIN} 20`} aria-hidden="true">
      <path className={styles.grid} d={GRID} />
      {from !== null && start !== end && (
        <>
          <path className={styles.way} d={`M${start} 10H${end}`} />
          <circle className={styles.start} cx={start} cy="10" r="3" />
        </>
      )}
      <circle className={styles.end} cx={end} cy="10" r="4.25" />
    </svg>
  )
}

/** The marks of the scale in words. */
export function WalkScale() {
  return (
    <svg className={styles.walk} viewBox={`${-MARGIN} 0 ${SCALE_WIDTH + 2 * MARGIN} 20`} aria-hidden="true">
      {SCALE_MARKS.map(({ chance, label }) => (
        <text key={chance} x={onScale(chance)} y="15" textAnchor="middle">
          {label}
        </text>
      ))}
    </svg>
  )
}
