'use client'

import { usePathname, useSearchParams } from 'next/navigation'
import { useMemo } from 'react'
import { formatsFor } from '../../ui/formats'
import { Link } from '../../ui/link'
import styles from './at.module.css'
import { atPlaceIn } from './at-address'
import { LINE_WORDS, NO_MEMORY, NOTHING_TAKEN_ALONG, OPENS_WITHOUT, SIGNED_OUT } from './at-words'
import { FORGOTTEN, type KnownSince } from './known'
import { OutboxList } from './outbox-list'
import { UnitFinder } from './unit-finder'
import { UnitPage } from './unit-page'
import { useKeptShell } from './use-kept-shell'
import { type Phone, usePhone } from './use-phone'

/** Everything at the vehicle, from what is on the phone: it needs the server for nothing but to send. */
export function AtVehicle() {
  const [pathname, parameters] = [usePathname(), useSearchParams()]
  const phone = usePhone()
  const place = atPlaceIn(pathname, parameters)
  const isKept = useKeptShell(phone !== null && phone !== 'no-memory' && phone.line === 'there')
  if (phone === 'no-memory') return <p className={styles.notice}>{NO_MEMORY}</p>
  if (phone === null) return <p role="status">{LINE_WORDS.asking}</p>
  if (phone.known === null)
    return (
      <>
        <LineNotice phone={phone} place={place.unit} />
        {phone.line === 'none' && <p className={styles.notice}>{NOTHING_TAKEN_ALONG}</p>}
      </>
    )
  return <TakenAlong key={place.unit} phone={phone} known={phone.known} place={place} isKept={isKept} />
}

type Props = { phone: Phone; known: KnownSince; place: ReturnType<typeof atPlaceIn>; isKept: boolean }

function TakenAlong({ phone, known, place, isKept }: Props) {
  const formats = useMemo(() => formatsFor(known.terms, known.terms.distance), [known.terms])
  const told = { phone, known, formats }
  // Whoever is signed out is told what waits, and nothing of any vehicle.
  const isForgotten = known.since === FORGOTTEN
  const isIn = phone.line !== 'signed-out' && !isForgotten
  return (
    <>
      <LineNotice phone={phone} place={place.unit} />
      {isForgotten && phone.line === 'none' && <p className={styles.notice}>{NOTHING_TAKEN_ALONG}</p>}
      {isIn &&
        (place.unit === null ? (
          <UnitFinder
            vehicles={known.vehicles}
            number={known.terms.vehicleNumber}
            hasReception={phone.line !== 'none'}
          />
        ) : (
          <UnitPage {...told} place={{ ...place, unit: place.unit }} />
        ))}
      <OutboxList {...told} unit={place.unit} />
      {isIn && (
        <p className={styles.since}>
          {known.person.name}, {known.organisation.name}. {formats.count(known.vehicles.length)} vehicles are
          on this phone as of {formats.moment(new Date(known.since))}.{isKept && ` ${OPENS_WITHOUT}`}
        </p>
      )}
    </>
  )
}

/** How it stands with the server, said where it matters. */
function LineNotice({ phone: { line }, place }: { phone: Phone; place: string | null }) {
  const from = place === null ? '/at' : `/at/${encodeURIComponent(place)}`
  return (
    <>
      {line === 'signed-out' && <h1>{SIGNED_OUT}</h1>}
      <div role="status" className={line === 'there' || line === 'asking' ? styles.line : styles.notice}>
        <p>{LINE_WORDS[line]}</p>
        {line === 'signed-out' && (
          <Link className={styles.button} href={`/door?from=${encodeURIComponent(from)}`}>
            Sign in again
          </Link>
        )}
      </div>
    </>
  )
}
