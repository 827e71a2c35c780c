import { AdviceMark } from '../../ui/advice-mark'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import { STOP_ORDERS } from '../../ui/words'
import styles from './at.module.css'
import { AT, atAddress } from './at-address'
import { AtLink } from './at-link'
import { KIND_HINTS, KIND_NAMES, MAY_NOT_ENTER, unknownHere } from './at-words'
import { EntryAtVehicle } from './entry-at-vehicle'
import type { KnownSince } from './known'
import { PhotographForm } from './photograph-form'
import { AT_VEHICLE_KINDS, type AtVehicleKind } from './sent-entry'
import { StopNow } from './stop-now'
import type { UnitProps } from './unit-props'
import { stopSignsIn } from './what-was-entered'

/** Beside one vehicle: what is known of it, and what can be entered. */
export function UnitPage(props: UnitProps) {
  const { phone, known, place, formats } = props
  const { unit, doing } = place
  const vehicle = known.vehicles.find((each) => each.unit === unit) ?? null
  const family = known.families.find(({ key }) => key === vehicle?.family) ?? null
  const kind = AT_VEHICLE_KINDS.find((each) => each === doing) ?? null
  const stops = phone.entries
    .filter((entry) => entry.unit === unit)
    .flatMap(({ fields }) => stopSignsIn(fields, family))
  return (
    <>
      <header className={styles.vehicle}>
        <AtLink className={styles.back} href={kind === null ? AT : atAddress(unit)}>
          {kind === null ? '‹ Another vehicle' : `‹ ${unit}`}
        </AtLink>
        <h1>{kind === null ? unit : KIND_NAMES[kind]}</h1>
        {kind === null && (
          <p>
            {[vehicle?.plate, family?.name ?? vehicle?.family, vehicle?.site].filter(Boolean).join(' · ')}
          </p>
        )}
      </header>
      {vehicle === null && <p className={styles.notice}>{unknownHere(unit)}</p>}
      <StopNow signs={stops} />
      {kind === null && vehicle && <Standing vehicle={vehicle} formats={formats} />}
      {!known.mayEnter && <p className={styles.notice}>{MAY_NOT_ENTER}</p>}
      {known.mayEnter &&
        (kind === null ? (
          <Tiles unit={unit} />
        ) : (
          <Form {...props} family={family} kind={kind} vehicle={vehicle} />
        ))}
    </>
  )
}

function Form(props: UnitProps & Parameters<typeof EntryAtVehicle>[0]['about'] & { kind: AtVehicleKind }) {
  const { kind, place, family, vehicle, ...rest } = props
  if (kind === 'photograph') return <PhotographForm key={place.unit} {...rest} unit={place.unit} />
  return (
    <EntryAtVehicle
      key={`${place.unit} ${kind} ${place.weakPoint}`}
      {...rest}
      place={place}
      kind={kind}
      about={{ family, vehicle }}
    />
  )
}

function Tiles({ unit }: { unit: string }) {
  return (
    <nav aria-label="What to enter">
      <ul className={styles.tiles}>
        {AT_VEHICLE_KINDS.map((kind) => (
          <li key={kind}>
            <AtLink className={styles.tile} href={atAddress(unit, { doing: kind })}>
              <strong>{KIND_NAMES[kind]}</strong>
              <span>{KIND_HINTS[kind]}</span>
            </AtLink>
          </li>
        ))}
      </ul>
      <p>
        <Link href={`/vehicles/${encodeURIComponent(unit)}`}>The vehicle’s own page</Link> has everything on
        record; it needs reception.
      </p>
    </nav>
  )
}

function Standing({ vehicle, formats }: { vehicle: KnownSince['vehicles'][number]; formats: Formats }) {
  const { standing, leading, speaks, odometer, kmPerDay } = vehicle
  return (
    <div className={styles.standing}>
      {standing === 'stop' && <p className={styles.stop}>{STOP_ORDERS}</p>}
      {standing !== null && (
        <p>
          <AdviceMark standing={standing} />
          {standing !== 'not-assessed' && [leading, speaks].some(Boolean) && ': '}
          {standing !== 'not-assessed' && [leading, speaks].filter(Boolean).join('; ')}
        </p>
      )}
      <p>
        {odometer === null
          ? 'Its odometer was never read.'
          : `Last read ${formats.distance(odometer.km)} on ${formats.day(odometer.day)}`}
        {odometer !== null && (kmPerDay ? `; about ${formats.distance(kmPerDay)} a day.` : '.')}
      </p>
    </div>
  )
}
