import type { VehicleSetAside } from '@/lib/jobs/set-aside'
import type { Terms } from '@/lib/store/read/terms'
import type { Formats } from '../../../../ui/formats'
import { DISTANCE_WORDS } from '../../../../ui/words'
import { distanceTyped } from '../distance-typed'
import { coverWords } from './aside-words'
import styles from './set-aside.module.css'

type Props = {
  aside: VehicleSetAside
  unread: string[]
  terms: Terms
  formats: Formats
}

const COVER_OF = {
  asked: 'As you asked',
  vehicle: 'What is left of its own cover',
  terms: 'By the terms that are kept with it',
  usual: 'A year, as nothing else is said',
}

/** Which cover is reckoned with; it writes its terms into the address, and changes nothing. */
export function CoverForm({ aside, unread, terms, formats }: Props) {
  const { cover, coverOf, choices, claimLimit } = aside
  return (
    <form className={styles.form} method="get" aria-label="Cover">
      <p>
        {COVER_OF[coverOf]}: {coverWords(cover, formats)}.
      </p>
      {unread.length > 0 && <p className={styles.unread}>{unread.join(' ')}</p>}
      <div className={styles.fields}>
        <label>
          Days
          <input
            name="days"
            inputMode="numeric"
            size={6}
            required
            defaultValue={cover.days}
            autoComplete="off"
          />
        </label>
        <label>
          {upperFirst(DISTANCE_WORDS[terms.distance])}
          <input
            name="far"
            inputMode="numeric"
            size={8}
            defaultValue={distanceTyped(cover.km, terms.distance)}
            placeholder="any"
            autoComplete="off"
          />
        </label>
        <label>
          Most paid for one failure{terms.currency && ` (${terms.currency})`}
          <input
            name="limit"
            inputMode="decimal"
            size={8}
            defaultValue={claimLimit ?? ''}
            placeholder="no limit"
            autoComplete="off"
          />
        </label>
      </div>
      <fieldset className={styles.without}>
        <legend>Left out of the cover</legend>
        {choices.map(({ weakPoint, name, excluded }) => (
          <label key={weakPoint}>
            <input type="checkbox" name="without" value={weakPoint} defaultChecked={excluded} />
            {name}
          </label>
        ))}
      </fieldset>
      <button type="submit">Reckon again</button>
    </form>
  )
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
