import type { WhatWeSaid } from '@/lib/jobs/what-we-said'
import type { VehicleHead } from '@/lib/store/read/vehicle-head'
import type { Formats } from '../../../../../ui/formats'
import { Link } from '../../../../../ui/link'
import { WHAT_WE_SAID } from '../../../../../ui/page-words'
import { ACTIONS, BECAUSE } from '../../../../../ui/record-words'
import { horizonWords } from '../../../../../ui/words'
import styles from './said.module.css'
import { replayWords } from './said-words'

type Props = { said: WhatWeSaid; vehicle: VehicleHead; page: string; formats: Formats }

/** What failed, when, and in which terms the page speaks. */
export function SaidHead({ said, vehicle, page, formats }: Props) {
  const { repair, weakPoint, position, horizonDays } = said
  const at = repair.odometerKm === null ? '' : ` at ${formats.distance(repair.odometerKm)}`
  const place = weakPoint.positions > 1 ? ` ${position}` : ''
  const because = repair.because === null ? '' : `, because ${BECAUSE[repair.because]}`
  return (
    <header className={styles.head}>
      <p className={styles.back}>
        <Link href={page}>Back to {vehicle.unit}</Link>
      </p>
      <h1>
        {WHAT_WE_SAID} of the {weakPoint.component.toLowerCase()}
        {place} of {vehicle.unit}
      </h1>
      <p className={styles.soft}>
        {[vehicle.plate, vehicle.family, vehicle.site, vehicle.customer].filter(Boolean).join(' · ')}
      </p>
      <p>
        Found failed on {formats.day(repair.doneOn)}
        {at}; {ACTIONS[repair.action]}
        {because}. Each chance below is that it fails within {horizonWords(horizonDays)} of its day if nothing
        is done, with the band in which it lies four times in five.
      </p>
      <p className={styles.soft}>{replayWords(said, formats)}</p>
      <Positions said={said} />
    </header>
  )
}

/** Which of several is told of, and the others that failed or may have. */
function Positions({ said }: Pick<Props, 'said'>) {
  const { weakPoint, positions, position } = said
  if (weakPoint.positions === 1 || positions.length === 1) return null
  const known = positions.length > 0
  const all = known ? positions : Array.from({ length: weakPoint.positions }, (_, i) => i + 1)
  return (
    <div>
      <p>
        {known
          ? `${positions.length} of them failed; this is number ${position}.`
          : `Which of ${weakPoint.positions} it was is not on record; this is number ${position}.`}
      </p>
      <p className={styles.positions}>
        {all.map((each) => (
          <Link key={each} href={`?position=${each}`} aria-current={each === position ? 'true' : undefined}>
            Number {each}
          </Link>
        ))}
      </p>
    </div>
  )
}
