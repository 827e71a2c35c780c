import { ENTRY_KINDS, type EntryKind } from '@/lib/intake/typed-entry'
import type { Family } from '@/lib/records/library'
import type { VehicleRow } from '@/lib/records/rows'
import type { VehicleRecord } from '@/lib/store/read/vehicle-records'
import { type Day, formatDay } from '@/lib/units/dates'
import type { Formats } from '../../../ui/formats'
import { KeptForm, TextField } from '../../../ui/kept-form'
import { Link } from '../../../ui/link'
import { enterRecord } from './actions'
import { CorrectForm } from './correct-form'
import { ChangeFields, CodeFields, LookFields, ReadingFields, ReportFields } from './entry-fields'
import { FactsForm } from './facts-form'
import { addressOfPlace, type Place } from './place'
import { RepairFields } from './repair-fields'
import styles from './vehicle.module.css'

type Props = {
  vehicle: VehicleRow
  family: Family | null
  families: Family[]
  /** The order of a walk round an engine. */
  zones: string[]
  records: VehicleRecord[]
  place: Place
  page: string
  today: Day
  distance: 'km' | 'mi'
  formats: Formats
}

const NAMES: Record<EntryKind | 'facts', string> = {
  reading: 'Reading',
  codes: 'Codes',
  look: 'Look',
  report: 'Driver says',
  repair: 'Repair',
  change: 'Engine or instrument',
  facts: 'The vehicle itself',
}

const SUBMIT: Record<EntryKind, string> = {
  reading: 'Enter the reading',
  codes: 'Enter the codes',
  look: 'Enter the look',
  report: 'Enter what was said',
  repair: 'Enter the repair',
  change: 'Enter the change',
}

/** What happened, entered in place: one short form at a time. */
export function EnterSection(props: Props) {
  const { place, page, records } = props
  // A correction takes the record's place, so that its form goes on with what came of it.
  const corrected = records.find(
    ({ kind, id, supersedesId, state }) =>
      state === 'live' && [`${kind}:${id}`, `${kind}:${supersedesId}`].includes(place.correct ?? ''),
  )
  const chosen = place.enter ?? 'reading'
  return (
    <section id="enter" className={styles.enter} aria-labelledby="enter-heading">
      <h2 id="enter-heading">{corrected ? 'Correct a record' : 'Enter what happened'}</h2>
      <nav className={styles.kinds} aria-label="What to enter">
        {[...ENTRY_KINDS, 'facts' as const].map((kind) => (
          <Link
            key={kind}
            href={addressOfPlace(page, { enter: kind, open: place.open }, 'enter')}
            aria-current={!corrected && kind === chosen ? 'true' : undefined}
            scroll={false}
          >
            {NAMES[kind]}
          </Link>
        ))}
      </nav>
      {corrected ? (
        <CorrectForm key={place.correct} record={corrected} />
      ) : chosen === 'facts' ? (
        <FactsForm {...props} />
      ) : (
        <EntryForm key={`${chosen} ${place.weakPoint}`} {...props} kind={chosen} />
      )}
    </section>
  )
}

function EntryForm(props: Props & { kind: EntryKind }) {
  const { kind, vehicle, family, place, page, today, distance } = props
  if (kind === 'repair' && place.weakPoint === null) return <WhichWeakPoint family={family} page={page} />
  return (
    <KeptForm action={enterRecord.bind(null, vehicle.unit, kind)} submit={SUBMIT[kind]}>
      <input type="hidden" name="unit" value={distance} />
      <div className={styles.occasion}>
        <TextField name="on" label="On" type="date" value={formatDay(today)} />
        <TextField
          name="odometer"
          label={kind === 'reading' ? 'The odometer says' : 'Odometer, if it was read'}
          unit={distance}
          inputMode="decimal"
          autoComplete="off"
        />
      </div>
      <Fields {...props} />
    </KeptForm>
  )
}

function Fields({ kind, family, zones, place }: Props & { kind: EntryKind }) {
  switch (kind) {
    case 'reading':
      return <ReadingFields />
    case 'codes':
      return <CodeFields />
    case 'look':
      return <LookFields family={family} zones={zones} />
    case 'report':
      return <ReportFields family={family} />
    case 'repair':
      return <RepairFields family={family} weakPoint={place.weakPoint ?? ''} />
    case 'change':
      return <ChangeFields />
  }
}

/** A repair begins with what was worked on: each a link, so that its form can ask what belongs to it. */
function WhichWeakPoint({ family, page }: { family: Family | null; page: string }) {
  const points = (family?.weakPoints ?? []).filter(({ retired }) => !retired)
  const option = (key: string, label: string) => (
    <li key={key}>
      <Link href={addressOfPlace(page, { enter: 'repair', weakPoint: key }, 'enter')} scroll={false}>
        {label}
      </Link>
    </li>
  )
  return (
    <>
      <p>What was worked on?</p>
      <ul className={styles.points}>
        {points.map(({ key, component }) => option(key, component))}
        {option('other', 'Something else')}
      </ul>
    </>
  )
}
