import { FIND_FAULT } from '../../ui/page-words'
import type { FaultAsked } from './fault-asked'
import styles from './fault-finding.module.css'

/** On which vehicle: by its number. Sends itself without script. */
export function ChooseVehicle({ number, isFirst }: { number: string; isFirst: boolean }) {
  return (
    <form className={styles.form} action="/fault-finding" method="get" aria-label="Which vehicle">
      {isFirst && (
        <p>
          Name a vehicle on which something was noticed: you are told what to look at first, what that costs,
          and what it most likely is.
        </p>
      )}
      <label>
        {isFirst ? 'Vehicle' : 'Another vehicle'} ({number})
        <input name="unit" required autoComplete="off" autoCapitalize="characters" size={14} />
      </label>
      <button type="submit">{FIND_FAULT}</button>
    </form>
  )
}

type LimitProps = Omit<FaultAsked, 'unit'> & { unit: string; currency: string | null }

/** What the customer lets be spent before being asked. */
export function LimitForm({ unit, limit, unread, currency }: LimitProps) {
  return (
    <form className={styles.form} action="/fault-finding" method="get" aria-label="Spending limit">
      <input type="hidden" name="unit" value={unit} />
      <label>
        The customer’s spending limit{currency && ` (${currency})`}
        <input
          name="limit"
          inputMode="decimal"
          size={10}
          defaultValue={limit ?? ''}
          placeholder="no limit"
          autoComplete="off"
        />
      </label>
      <button type="submit">Reckon again</button>
      {unread !== null && <p className={styles.unread}>{unread}</p>}
    </form>
  )
}
