import type { Formats } from './formats'
import styles from './waiting.module.css'
import { betweenAmounts } from './words'

type Props = {
  cost: number | null
  /** Its 80 % band, where that is to be told. */
  band?: { low: number; high: number } | null
  formats: Formats
}

/** What leaving it until the next slot costs or saves. */
export function Waiting({ cost, band = null, formats }: Props) {
  if (cost === null) return null
  return (
    <>
      <data value={cost} className={cost >= 0.5 ? styles.costs : styles.saves}>
        {waitingWords(cost, formats)}
      </data>
      {band && betweenAmounts(band, formats.money)}
    </>
  )
}

function waitingWords(cost: number, formats: Formats): string {
  if (Math.abs(cost) < 0.5) return 'costs nothing'
  return `${cost > 0 ? 'costs' : 'saves'} ${formats.money(Math.abs(cost))}`
}
