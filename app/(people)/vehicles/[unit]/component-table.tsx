import type { ReactNode } from 'react'
import type { VehicleComponent } from '@/lib/store/read/vehicle-components'
import { AdviceMark } from '../../../ui/advice-mark'
import { ChanceDot, ChanceScale } from '../../../ui/chance-dot'
import { frequency } from '../../../ui/chance-words'
import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import { Waiting } from '../../../ui/waiting'
import { COMPONENT_COLUMNS, horizonWords, placeWords, slotWords } from '../../../ui/words'
import { addressOfPlace, keyOf } from './place'
import styles from './vehicle.module.css'

type Props = {
  components: VehicleComponent[]
  horizonDays: number
  slotDays: number
  formats: Formats
  /** The page's address, and the component that is open on it, with what it shows. */
  page: string
  open: string | null
  details: ReactNode
}

const COLUMNS = 7

/** The weak points of one vehicle, the most urgent first; a press on its name opens a row. */
export function ComponentTable({ components, horizonDays, slotDays, formats, page, open, details }: Props) {
  const waiting = `${COMPONENT_COLUMNS.waiting} ${slotWords(slotDays)}`
  return (
    <table className={styles.table}>
      <caption className="for-ears">
        Its weak points, the most urgent first, then the likeliest to fail
      </caption>
      <thead>
        <tr>
          <th scope="col">{COMPONENT_COLUMNS.weakPoint}</th>
          <th scope="col">{COMPONENT_COLUMNS.advice}</th>
          <th scope="col">
            {COMPONENT_COLUMNS.chance} {horizonWords(horizonDays)}
            <ChanceScale />
          </th>
          <th scope="col">{COMPONENT_COLUMNS.going}</th>
          <th scope="col">{COMPONENT_COLUMNS.remaining}</th>
          <th scope="col">{waiting}</th>
          <th scope="col">{COMPONENT_COLUMNS.speaks}</th>
        </tr>
      </thead>
      {components.map((component) => {
        const key = keyOf(component)
        const isOpen = key === open
        return (
          <tbody key={key} id={key}>
            <tr>
              <th scope="row">
                <Link
                  className={styles.opener}
                  href={addressOfPlace(page, { open: isOpen ? null : key }, key)}
                  aria-expanded={isOpen}
                  scroll={false}
                >
                  {component.name} <small>{placeWords(component.place, component.position)}</small>
                </Link>
              </th>
              <td>
                <AdviceMark standing={component.advice} />
              </td>
              <td>
                <ChanceDot {...component} standing={component.advice} formats={formats} />
              </td>
              <td data-label={COMPONENT_COLUMNS.going}>
                <data value={component.pDeveloping}>{frequency(component.pDeveloping, formats.count)}</data>
              </td>
              <td data-label={COMPONENT_COLUMNS.remaining}>
                {component.remainingKmP50 === null ? 'not known' : formats.distance(component.remainingKmP50)}
              </td>
              <td data-label={waiting}>
                <Waiting cost={component.costOfWaiting} formats={formats} />
              </td>
              <td>{component.speaks}</td>
            </tr>
            {isOpen && (
              <tr className={styles.opened}>
                <td colSpan={COLUMNS}>{details}</td>
              </tr>
            )}
          </tbody>
        )
      })}
    </table>
  )
}
