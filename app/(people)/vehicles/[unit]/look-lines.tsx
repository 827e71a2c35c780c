import type { VehicleLooks } from '@/lib/store/read/looks'
import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import { LOOK_SHEET } from '../../../ui/page-words'
import { sheetAddress } from '../../looks/looks-asked'
import { changeWords, kindWords } from '../../looks/looks-words'
import styles from './visit.module.css'

type Props = { unit: string; looks: VehicleLooks['looks']; mustStop: boolean; formats: Formats }

/** The looks at this vehicle that are worth making, and its sheet. */
export function LookLines({ unit, looks, mustStop, formats }: Props) {
  const made = looks.filter(({ kind }) => kind !== 'road' || !mustStop)
  return (
    <div className={styles.fault}>
      {made.map((look) => (
        <p key={look.kind}>
          Worth making:{' '}
          <Link href={sheetAddress([unit], look.kind)}>{kindWords(look.kind).toLowerCase()}</Link>.{' '}
          {changeWords(look, formats)} Worth about {formats.roughMoney(look.worth)}, its cost taken off.
        </p>
      ))}
      <p>
        <Link href={sheetAddress([unit])}>{LOOK_SHEET}</Link> to take along
      </p>
    </div>
  )
}
