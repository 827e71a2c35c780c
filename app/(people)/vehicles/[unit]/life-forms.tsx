import { rowObject } from '@/lib/intake/row-object'
import type { VehicleRow } from '@/lib/records/rows'
import { type Day, formatDay } from '@/lib/units/dates'
import { ChoiceField, KeptForm, TextField } from '../../../ui/kept-form'
import { Link } from '../../../ui/link'
import { KNOWN_OF_CUSTOMER } from '../../../ui/page-words'
import { distanceTyped } from './distance-typed'
import { changeOwner, changeStatus } from './life-actions'
import styles from './vehicle.module.css'

type Props = { vehicle: VehicleRow; today: Day; distance: 'km' | 'mi' }

const STATUS_OPTIONS = [
  { value: 'active', label: 'in use' },
  { value: 'stock', label: 'in stock' },
  { value: 'sold', label: 'sold' },
  { value: 'retired', label: 'retired: scrapped, lost, or not to be used again' },
]

/** Sold, with or without cover, retired, or there again. */
export function StatusForm({ vehicle, today, distance }: Props) {
  const { status, leftOn, coverUntilOn, coverUntilKm } = vehicle
  const day = (value: Day | null) => (value === null ? '' : formatDay(value))
  return (
    <KeptForm action={changeStatus.bind(null, vehicle.unit)} submit="Say so">
      <input type="hidden" name="unit" value={distance} />
      <ChoiceField
        name="status"
        label="What has become of it"
        hint="What is sold without cover, or retired, is not scored any more. Its records stay."
        value={status}
        options={STATUS_OPTIONS}
      />
      <TextField
        name="left_on"
        label="Sold or retired on"
        hint="Not asked of one that is there."
        type="date"
        value={day(leftOn ?? today)}
      />
      <div className={styles.occasion}>
        <TextField
          name="cover_until_on"
          label="Sold under cover: until"
          hint="You answer for it until then, so it is scored like stock."
          type="date"
          value={day(coverUntilOn)}
        />
        <TextField
          name="cover_until_km"
          label="and up to an odometer of"
          hint="Blank: as far as it goes. Cover ends with whichever comes first."
          unit={distance}
          inputMode="decimal"
          autoComplete="off"
          value={distanceTyped(coverUntilKm, distance)}
        />
      </div>
    </KeptForm>
  )
}

const BLANK = 'Blank: not known, of a new owner; as it stands, of the same.'

/** Whose it is: another from a day on, or the same put right. */
export function OwnerForm({ vehicle, today, distance, ofCustomer }: Props & { ofCustomer: string | null }) {
  const { customer, contact } = rowObject('vehicles', vehicle)
  return (
    <KeptForm action={changeOwner.bind(null, vehicle.unit)} submit="Change whose it is">
      <input type="hidden" name="unit" value={distance} />
      {customer == null && contact == null ? (
        <p>Nobody is on record as its owner.</p>
      ) : (
        <p>
          On record: {[customer, contact].filter((part) => part != null).join(', ')}.
          {ofCustomer !== null && (
            <>
              {' '}
              <Link href={ofCustomer}>Take out or erase {KNOWN_OF_CUSTOMER}</Link>
            </>
          )}
        </p>
      )}
      <ChoiceField
        name="which"
        label="Is the owner another one?"
        hint="The records go with the vehicle. Name and contact of the owner before are shown on no page any more."
        options={[
          { value: 'other', label: 'yes, it has a new owner' },
          { value: 'same', label: 'no, the name or the contact is put right' },
        ]}
      />
      <TextField name="customer" label="Whose it is" hint={BLANK} autoComplete="off" />
      <TextField name="contact" label="How to reach them" hint={BLANK} autoComplete="off" />
      <div className={styles.occasion}>
        <TextField name="on" label="A new owner: from" type="date" value={formatDay(today)} />
        <TextField
          name="odometer"
          label="Odometer, if it was read"
          unit={distance}
          inputMode="decimal"
          autoComplete="off"
        />
      </div>
    </KeptForm>
  )
}
