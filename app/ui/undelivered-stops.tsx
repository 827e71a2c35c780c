import type { StopNotice } from '@/lib/store/read/stop-notices'
import type { Formats } from './formats'
import { Link } from './link'
import styles from './undelivered-stops.module.css'
import { countWord, NOT_DELIVERED, placeWords, STOP_ORDERS } from './words'

/** Vehicles that must not be driven and whose drivers nobody has told yet; nothing where there are none. */
export function UndeliveredStops({ notices, formats }: { notices: StopNotice[]; formats: Formats }) {
  if (notices.length === 0) return null
  const many = `${countWord(notices.length, formats.count)} ${notices.length === 1 ? 'driver has' : 'drivers have'}`
  return (
    <section className={styles.stops} aria-labelledby="undelivered">
      <h2 id="undelivered">Do not drive: {many} not been told yet</h2>
      <ul>
        {notices.map(({ id, unit, plate, name, place, position, reason, undelivered }) => (
          <li key={id}>
            <Link href={`/vehicles/${encodeURIComponent(unit)}#stop`}>
              {unit}
              {plate && ` (${plate})`}
            </Link>
            : {[name, placeWords(place, position)].filter(Boolean).join(', ')}; {reason}. {STOP_ORDERS}
            {undelivered && <strong> {NOT_DELIVERED}</strong>}
          </li>
        ))}
      </ul>
    </section>
  )
}
