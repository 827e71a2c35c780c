import { useState } from 'react'
import type { VehicleNumber } from '@/lib/records/settings'
import type { VehicleToTakeAlong } from '@/lib/store/read/vehicles-to-take-along'
import { VEHICLE_NUMBER } from '../../ui/words'
import styles from './at.module.css'
import { atAddress } from './at-address'
import { AtLink, goTo } from './at-link'
import { vehiclesLike } from './find-vehicle'
import { Scanner } from './scanner'

const MOST_SHOWN = 8

type Props = { vehicles: VehicleToTakeAlong[]; number: VehicleNumber; hasReception: boolean }

/** Which vehicle: its label before the camera, or its number typed. */
export function UnitFinder({ vehicles, number, hasReception }: Props) {
  const [typed, setTyped] = useState('')
  const found = vehiclesLike(vehicles, typed, MOST_SHOWN)
  const chosen = found[0]?.unit ?? typed.trim()
  return (
    <section className={styles.finder} aria-labelledby="which">
      <h1 id="which">Which vehicle?</h1>
      <Scanner vehicles={vehicles} hasReception={hasReception} />
      <form
        className={styles.typed}
        onSubmit={(event) => {
          event.preventDefault()
          if (chosen !== '') goTo(atAddress(chosen))
        }}
      >
        <label htmlFor="unit">{upperFirst(VEHICLE_NUMBER[number])} or plate</label>
        <input
          id="unit"
          className={styles.control}
          value={typed}
          onChange={(event) => setTyped(event.target.value)}
          autoComplete="off"
          autoCapitalize="characters"
          spellCheck={false}
          enterKeyHint="go"
        />
        <ul className={styles.found} aria-label="Vehicles like that">
          {found.map(({ unit, plate, site }) => (
            <li key={unit}>
              <AtLink className={styles.tile} href={atAddress(unit)}>
                <strong>{unit}</strong>
                <span>{[plate, site].filter(Boolean).join(' · ')}</span>
              </AtLink>
            </li>
          ))}
        </ul>
        <p role="status">
          {typed.trim() !== '' &&
            found.length === 0 &&
            `No vehicle on this phone is called “${typed.trim()}”.`}
        </p>
        <button type="submit" className={styles.submit}>
          {chosen === '' ? 'Go to the vehicle' : `Go to ${chosen}`}
        </button>
      </form>
    </section>
  )
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
