import type { VehicleHead } from '@/lib/store/read/vehicle-head'
import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import styles from './stock.module.css'

type Props = { title: string; head: VehicleHead; who: string[]; made: string; formats: Formats }

/** Who the vehicle is, and of which day the sheet is. */
export function StockHead({ title, head: { unit, score }, who, made, formats }: Props) {
  return (
    <header className={styles.head}>
      <p className={styles.back}>
        <Link href={`/vehicles/${encodeURIComponent(unit)}`}>Back to {unit}</Link>
      </p>
      <h1>
        {title}: {unit}
      </h1>
      {who.map((line) => (
        <p key={line}>{line}</p>
      ))}
      <p>
        {score?.odometerKm == null ? 'Its odometer is not known.' : odometerWords(score, formats)} Made {made}
        .
      </p>
    </header>
  )
}

function odometerWords(
  { odometerKm, odometerReadOn, odometerEstimated }: NonNullable<VehicleHead['score']>,
  formats: Formats,
): string {
  const read = odometerReadOn === null ? 'never read' : `last read ${formats.day(odometerReadOn)}`
  return `Odometer ${formats.distance(odometerKm ?? 0)}, ${odometerEstimated ? `estimated; ${read}` : read}.`
}
