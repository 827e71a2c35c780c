import { type FormEvent, useEffect, useRef, useState } from 'react'
import { readTypedForm } from '@/lib/intake/typed-form'
import type { Family, Sign } from '@/lib/records/library'
import { dayIn, formatDay } from '@/lib/units/dates'
import { asked, done, type FormState, refused } from '../../ui/form-state'
import { KeptForm, TextField } from '../../ui/kept-form'
import { CAUTION } from '../../ui/words'
import { doubtAbout } from '../vehicles/[unit]/doubt-about'
import { CodeFields, LookFields, ReadingFields, ReportFields } from '../vehicles/[unit]/entry-fields'
import { RepairFields } from '../vehicles/[unit]/repair-fields'
import { typedIn } from '../vehicles/[unit]/typed-in'
import styles from './at.module.css'
import { atAddress } from './at-address'
import { AtLink } from './at-link'
import { ENTER_WORDS, KEPT_HERE } from './at-words'
import type { KnownSince } from './known'
import { newEntry } from './new-entry'
import type { TYPED_AT_VEHICLE } from './sent-entry'
import { StopNow } from './stop-now'
import type { UnitProps } from './unit-props'
import { draftOf, odometerToday, stopSignsIn } from './what-was-entered'

type Kind = (typeof TYPED_AT_VEHICLE)[number]
type About = { family: Family | null; vehicle: KnownSince['vehicles'][number] | null }
type Props = UnitProps & { kind: Kind; about: About }

/** One of the short forms of the vehicle's page, kept on the phone before it is sent. */
export function EntryAtVehicle(props: Props) {
  const { phone, known, place, kind, about } = props
  const form = kind === 'repair' ? `repair ${place.weakPoint}` : kind
  const [draft, setDraft] = useState<Record<string, string> | null>(null)
  const key = useRef({ person: known.person.id, unit: place.unit, form })
  useEffect(() => {
    phone.memory.draft(key.current).then(setDraft)
  }, [phone.memory])
  const [stops, setStops] = useState<Sign[]>([])
  const typing = useRef(0)
  if (kind === 'repair' && place.weakPoint === null)
    return <WhichWeakPoint unit={place.unit} family={about.family} />
  if (draft === null) return null

  const onChange = (event: FormEvent<HTMLDivElement>) => {
    const fields = fieldsAround(event.target)
    if (fields === null) return
    setStops(stopSignsIn(fields, about.family))
    clearTimeout(typing.current)
    typing.current = window.setTimeout(
      () => phone.memory.keepDraft(key.current, draftOf(fields, dayIn(known.terms.timeZone, new Date()))),
      300,
    )
  }
  const enter = async (before: FormState, data: FormData): Promise<FormState> => {
    clearTimeout(typing.current)
    const now = new Date()
    const { sure, ...fields } = typedIn(data)
    const today = dayIn(known.terms.timeZone, now)
    const distance = fields.unit === 'mi' ? 'mi' : 'km'
    const read = readTypedForm(kind, fields, { unit: place.unit, family: about.family, today, distance })
    if (!read.ok) return refused(before, data, read.slips)
    const doubt = doubtAbout(read, doubtGround(props))
    const answered = [sure, ...phone.entries.map((entry) => entry.unit === place.unit && entry.sure)]
    if (doubt && !answered.includes(doubt.sure)) return asked(before, data, doubt)
    const entry = newEntry(
      known,
      { unit: place.unit, kind, fields, sure: doubt?.sure ?? null, family: about.family },
      now,
    )
    await phone.memory.add(entry, null, key.current)
    setStops([])
    phone.changed()
    return done(before, KEPT_HERE, {
      next: { address: atAddress(place.unit), words: `Back to ${place.unit}` },
    })
  }
  return (
    <div className={styles.form} onChange={onChange}>
      <StopNow signs={stops} />
      <h2 className="for-ears">What to fill in</h2>
      {kind === 'repair' && <p className={styles.caution}>{CAUTION}</p>}
      <KeptForm action={enter} submit={ENTER_WORDS[kind]} begun={draft}>
        <Occasion {...props} />
        <Fields {...props} />
      </KeptForm>
    </div>
  )
}

/** When and at which odometer: what was typed in one form stands in the next of the same visit. */
function Occasion({ phone, known, place, kind }: Props) {
  const { distance, timeZone } = known.terms
  const now = new Date()
  const earlier = kind === 'reading' ? null : odometerToday(phone.entries, place.unit, { timeZone, now })
  return (
    <div className={styles.occasion}>
      <input type="hidden" name="unit" value={distance} />
      <TextField
        name="odometer"
        label={kind === 'reading' ? 'The odometer says' : 'Odometer, if it was read'}
        unit={distance}
        value={earlier?.unit === distance ? earlier.odometer : ''}
        inputMode="decimal"
        autoComplete="off"
      />
      <TextField name="on" label="On" type="date" value={formatDay(dayIn(timeZone, now))} />
    </div>
  )
}

function Fields({ kind, place, known, about: { family } }: Props) {
  switch (kind) {
    case 'reading':
      return <ReadingFields />
    case 'codes':
      return <CodeFields />
    case 'look':
      return (
        <div className={styles.walk}>
          <LookFields family={family} zones={known.zones} foot={(zone) => <RestNotSeen zone={zone} />} />
        </div>
      )
    case 'report':
      return <ReportFields family={family} />
    case 'repair':
      return <RepairFields family={family} weakPoint={place.weakPoint ?? ''} />
  }
}

/** The trusted odometer as this phone knows it. */
function doubtGround({ about: { vehicle }, formats }: Props) {
  const { odometer, kmPerDay } = vehicle ?? { odometer: null, kmPerDay: null }
  const trusted = {
    day: Float64Array.from(odometer ? [odometer.day] : []),
    km: Float64Array.from(odometer ? [odometer.km] : []),
  }
  return { odometer: { trusted }, formats, usualKmPerDay: kmPerDay }
}

function fieldsAround(target: EventTarget): Record<string, string> | null {
  const form = target instanceof Element ? target.closest('form') : null
  return form && typedIn(new FormData(form))
}

/** Marks what nothing was said of in a zone as looked at and not seen. */
function RestNotSeen({ zone }: { zone: string }) {
  const mark = (button: HTMLElement) => {
    const unsaid = button
      .closest('section')
      ?.querySelectorAll<HTMLInputElement>('input[type="radio"][value=""]:checked')
    for (const { name, form } of unsaid ?? []) {
      const notSeen = form?.querySelector<HTMLInputElement>(
        `input[name="${CSS.escape(name)}"][value="not-seen"]`,
      )
      notSeen?.click()
    }
  }
  return (
    <button type="button" className={styles.button} onClick={(event) => mark(event.currentTarget)}>
      The rest of “{zone}”: looked at, not seen
    </button>
  )
}

/** A repair begins with what was worked on. */
function WhichWeakPoint({ unit, family }: { unit: string; family: Family | null }) {
  const points = (family?.weakPoints ?? []).filter(({ retired }) => !retired)
  const choices = [
    ...points.map(({ key, component }) => ({ key, component })),
    { key: 'other', component: 'Something else' },
  ]
  return (
    <>
      <h2>What was worked on?</h2>
      <ul className={styles.tiles}>
        {choices.map(({ key, component }) => (
          <li key={key}>
            <AtLink className={styles.tile} href={atAddress(unit, { doing: 'repair', weakPoint: key })}>
              <strong>{component}</strong>
            </AtLink>
          </li>
        ))}
      </ul>
    </>
  )
}
