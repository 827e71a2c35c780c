import { ENTRY_KINDS, type EntryKind } from '@/lib/intake/typed-form'
import type { Family } from '@/lib/records/library'
import type { VehicleRow } from '@/lib/records/rows'
import type { VehicleRecord } from '@/lib/store/read/vehicle-records'
import { type Day, formatDay } from '@/lib/units/dates'
import type { Formats } from '../../../ui/formats'
import { KeptForm, TextField } from '../../../ui/kept-form'
import { Link } from '../../../ui/link'
import { AT_VEHICLE } from '../../../ui/page-words'
import { atAddress } from '../../at/at-address'
import { enterRecord } from './actions'
import { CorrectForm } from './correct-form'
import { ChangeFields, CodeFields, LookFields, ReadingFields, ReportFields } from './entry-fields'
import { FactsForm } from './facts-form'
import { OwnerForm, StatusForm } from './life-forms'
import { addressOfPlace, type Place, VEHICLE_FORMS, type VehicleForm } from './place'
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
  /** Where everything known of its customer stands; null for who may not. */
  ofCustomer: string | null
  formats: Formats
}

const NAMES: Record<EntryKind | VehicleForm, string> = {
  reading: 'Reading',
  codes: 'Codes',
  look: 'Look',
  report: 'Driver says',
  repair: 'Repair',
  change: 'Engine or instrument',
  facts: 'The vehicle itself',
  status: 'Sold, retired, back',
  owner: 'Its owner',
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
  const corrected = correctedIn(records, place.correct)
  const chosen = place.enter ?? 'reading'
  return (
    <section id="enter" className={styles.enter} aria-labelledby="enter-heading">
      <h2 id="enter-heading">{corrected ? 'Correct a record' : 'Enter what happened'}</h2>
      <nav className={styles.kinds} aria-label="What to enter">
        {[...ENTRY_KINDS, ...VEHICLE_FORMS].map((kind) => (
          <Link
            key={kind}
            href={addressOfPlace(page, { enter: kind, open: place.open }, 'enter')}
            aria-current={!corrected && kind === chosen ? 'true' : undefined}
            scroll={false}
          >
            {NAMES[kind]}
          </Link>
        ))}
        <Link href={`/vehicles/${encodeURIComponent(props.vehicle.unit)}/same`}>The same as another</Link>
        <Link href={atAddress(props.vehicle.unit)}>{AT_VEHICLE}, on a phone</Link>
      </nav>
      {corrected ? (
        <CorrectForm key={place.correct} record={corrected} />
      ) : (
        <Chosen key={`${chosen} ${place.weakPoint}`} {...props} kind={chosen} />
      )}
    </section>
  )
}

/**
 * The record that is being corrected. A correction takes its place, so that the form goes on with what came of it; where
 * it was moved to another vehicle, the record itself stays, so that the form can still tell that.
 */
function correctedIn(records: VehicleRecord[], correct: string | null): VehicleRecord | undefined {
  const isAsked = ({ kind, id }: { kind: string; id: string | null }) => `${kind}:${id}` === correct
  const live = records.find(
    (record) =>
      record.state === 'live' && (isAsked(record) || isAsked({ kind: record.kind, id: record.supersedesId })),
  )
  const isHere = (id: string | null) => records.some((record) => record.id === id)
  return (
    live ?? records.find((one) => isAsked(one) && one.state === 'superseded' && !isHere(one.supersededBy))
  )
}

function Chosen({ kind, ...props }: Props & { kind: EntryKind | VehicleForm }) {
  switch (kind) {
    case 'facts':
      return <FactsForm {...props} />
    case 'status':
      return <StatusForm {...props} />
    case 'owner':
      return <OwnerForm {...props} />
    default:
      return <EntryForm {...props} kind={kind} />
  }
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

function Fields({ kind, family, zones, place, distance }: Props & { kind: EntryKind }) {
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
      return <ChangeFields distance={distance} />
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
