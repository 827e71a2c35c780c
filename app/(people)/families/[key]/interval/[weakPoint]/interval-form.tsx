import type { VehicleRow } from '@/lib/records/rows'
import type { FamilyUse } from '@/lib/store/read/family-use'
import type { Formats } from '../../../../../ui/formats'
import { DUTIES } from '../../../../../ui/library-words'
import styles from '../../../families.module.css'

type Props = {
  duty: VehicleRow['duty']
  uses: Pick<FamilyUse, 'duty' | 'vehicles'>[]
  /** As it was typed, with what is wrong with it. */
  every: { typed: string; error: string | null }
  hint: string
  /** The chosen unit, where it is not the organisation's. */
  distance: string | null
  formats: Formats
}

/** Asks for an interval and for the way of driving; the address then holds the answer. */
export function IntervalForm({ duty, uses, every, hint, distance, formats }: Props) {
  const count = (kind: VehicleRow['duty']) => uses.find((use) => use.duty === kind)?.vehicles ?? 0
  return (
    <form method="get" className={styles.ask}>
      {distance !== null && <input type="hidden" name="distance" value={distance} />}
      <div>
        <label htmlFor="every">An interval of your own</label>
        <p id="every-hint">{hint}</p>
        {every.error !== null && <p id="every-error">{every.error}</p>}
        <input
          id="every"
          name="every"
          defaultValue={every.typed}
          aria-describedby={every.error === null ? 'every-hint' : 'every-hint every-error'}
          aria-invalid={every.error === null ? undefined : true}
        />
      </div>
      <div>
        <label htmlFor="driving">Driving</label>
        <select id="driving" name="driving" defaultValue={duty}>
          {(['short', 'mixed', 'long'] as const).map((kind) => (
            <option key={kind} value={kind}>
              {DUTIES[kind]}: {formats.count(count(kind))} vehicles
            </option>
          ))}
        </select>
      </div>
      <button type="submit" className={styles.act}>
        Work it out
      </button>
    </form>
  )
}
