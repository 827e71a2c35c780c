import type { WatchlistRow } from '@/lib/store/read/watchlist'
import { AdviceMark } from '../../../ui/advice-mark'
import { frequency } from '../../../ui/chance-words'
import type { Formats } from '../../../ui/formats'
import { CAUTION, daysAgo, horizonWords, NO_SUCH_ENGINE, NOT_COVERED, STOP_ORDERS } from '../../../ui/words'
import styles from './vehicle.module.css'

type Props = { vehicle: WatchlistRow; horizonDays: number; formats: Formats }

/** Who it is, what is advised, and what the advice rests on. */
export function VehicleHead({ vehicle, horizonDays, formats }: Props) {
  const { unit, plate, family, site, customer, standing, combined } = vehicle
  const act = standing === 'stop' || standing === 'book'
  return (
    <header className={styles.head}>
      <h1>{unit}</h1>
      <p className={styles.who}>{[plate, family, site, customer].filter(Boolean).join(' · ')}</p>
      <p className={styles.advice}>
        <AdviceMark standing={standing} />
        {standing === 'stop' && ` ${STOP_ORDERS}`}
        {standing === 'not-assessed' && ` ${NO_SUCH_ENGINE}`}
      </p>
      {combined !== null && (
        <p>
          Chance that something fails within {horizonWords(horizonDays)} if nothing is done:{' '}
          <data value={combined}>
            <strong>{frequency(combined, formats.count)}</strong>
          </data>
          . {formats.count(vehicle.weakPointsCovered)} weak points of its engine are covered; {NOT_COVERED}.
        </p>
      )}
      <p className={styles.rests}>
        {odometerWords(vehicle, formats)} {lookedAtWords(vehicle, formats)}
      </p>
      {act && <p className={styles.rests}>{CAUTION}</p>}
    </header>
  )
}

function odometerWords(
  { odometerKm, odometerReadOn, odometerEstimated }: WatchlistRow,
  formats: Formats,
): string {
  if (odometerKm === null) return 'Its odometer is not known.'
  const read = odometerReadOn === null ? 'never read' : `last read ${formats.day(odometerReadOn)}`
  return `${formats.distance(odometerKm)}, ${odometerEstimated ? `estimated; ${read}` : read}.`
}

function lookedAtWords({ asOf, lastLookedAtOn, lastFullScanOn }: WatchlistRow, formats: Formats): string {
  const ago = (day: number | null) => (day === null ? 'never' : daysAgo(asOf - day, formats.count))
  return `Looked at: ${ago(lastLookedAtOn)}. Full scan: ${ago(lastFullScanOn)}.`
}
