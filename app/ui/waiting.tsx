import type { Formats } from './formats'
import styles from './waiting.module.css'

/** What leaving it until the next slot costs or saves. */
export function Waiting({ cost, formats }: { cost: number | null; formats: Formats }) {
  if (cost === null) return null
  return (
    <data value={cost} className={cost >= 0.5 ? styles.costs : styles.saves}>
      {waitingWords(cost, formats)}
    </data>
  )
}

function waitingWords(cost: number, formats: Formats): string {
  if (Math.abs(cost) < 0.5) return 'costs nothing'
  return `${cost > 0 ? 'costs' : 'saves'} ${formats.money(Math.abs(cost))}`
}
