import type { Family } from '@/lib/records/library'
import type { Terms } from '@/lib/store/read/terms'
import { VEHICLE_NUMBER } from '../../ui/words'
import styles from '../vehicles/[unit]/set-aside/set-aside.module.css'
import type { AskedBid } from './bid-asked'

type Props = { asked: AskedBid; families: Family[]; family: Family | null; terms: Terms }

/** Which vehicle, at which sums. Everything goes into the address; nothing is kept. */
export function BidForm({ asked, families, family, terms }: Props) {
  const { typed, unread } = asked
  const inMoney = terms.currency === null ? '' : ` (${terms.currency})`
  return (
    <form className={styles.form} method="get" aria-label="Bid">
      <p>
        A vehicle on record by its {VEHICLE_NUMBER[terms.vehicleNumber]}, or any other by its engine and
        odometer. Nothing of this is kept: it stands in the address alone.
      </p>
      {unread.length > 0 && <p className={styles.unread}>{unread.join(' ')}</p>}
      <div className={styles.fields}>
        <Field
          name="unit"
          label={upperFirst(VEHICLE_NUMBER[terms.vehicleNumber])}
          typed={typed}
          placeholder="none"
        />
        <label>
          or engine
          <select name="family" defaultValue={asked.family}>
            <option value="">as on record</option>
            {families.map(({ key, name }) => (
              <option key={key} value={key}>
                {name}
              </option>
            ))}
          </select>
        </label>
        <Field name="odometer" label={`and odometer (${terms.distance})`} typed={typed} />
      </div>
      <div className={styles.fields}>
        <Field name="retail" label={`It will sell for${inMoney}`} typed={typed} />
        <Field name="prep" label={`Making it ready${inMoney}`} typed={typed} />
        <Field name="margin" label={`Margin wanted${inMoney}`} typed={typed} />
        <Field name="price" label={`Asked for it${inMoney}`} typed={typed} placeholder="not said" />
      </div>
      <div className={styles.fields}>
        <Field name="days" label="Cover in days" typed={typed} placeholder="usual" />
        <Field name="far" label={`or ${terms.distance}`} typed={typed} placeholder="usual" />
      </div>
      {family && asked.unit === '' && <Signs family={family} looked={asked.looked} />}
      <button type="submit">Reckon the bid</button>
    </form>
  )
}

type FieldProps = { name: string; label: string; typed: AskedBid['typed']; placeholder?: string }

function Field({ name, label, typed, placeholder }: FieldProps) {
  return (
    <label>
      {label}
      <input
        {...{ name, placeholder }}
        inputMode={name === 'unit' ? 'text' : 'decimal'}
        defaultValue={typed(name)}
        autoComplete="off"
      />
    </label>
  )
}

const ANSWERS = [
  { value: '', label: 'not looked' },
  { value: 'seen', label: 'seen' },
  { value: 'not seen', label: 'not seen' },
]

/** What was looked for on it, sign by sign: the bid moves with each. */
function Signs({ family, looked }: { family: Family; looked: AskedBid['looked'] }) {
  return (
    <details className={styles.signs} open={looked.size > 0}>
      <summary>What was seen on it, and what was looked for</summary>
      <div className={styles.fields}>
        {family.signs.map(({ key, label }) => (
          <label key={key}>
            {label}
            <select name={`sign-${key}`} defaultValue={looked.get(key) ?? ''}>
              {ANSWERS.map(({ value, label: words }) => (
                <option key={value} value={value}>
                  {words}
                </option>
              ))}
            </select>
          </label>
        ))}
      </div>
    </details>
  )
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
