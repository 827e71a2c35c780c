import type { PartWanted } from '@/lib/jobs/next-visit'
import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import { ON_SHELF, type Place } from './place'
import styles from './visit.module.css'

type Props = { place: Place; page: string; parts: PartWanted[]; formats: Formats }

/** That it is here for another reason, how many hours there are for it, and which parts are on the shelf. */
export function HereNow({ place, page, parts, formats }: Props) {
  const kept = new URL(page, 'http://page.invalid').searchParams
  return (
    <form className={styles.here} action="#visit" method="get">
      {[...kept].map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <input type="hidden" name="here" value="yes" />
      <label>
        It is here now, with
        <input
          name="hours"
          inputMode="decimal"
          size={4}
          defaultValue={place.hours ?? ''}
          autoComplete="off"
        />
        hours free
      </label>
      {parts.length > 0 && (
        <fieldset className={styles.shelf}>
          <legend>On the shelf (left empty: there are enough)</legend>
          {parts.map(({ part, wanted, there }) => (
            <label key={part}>
              {part}, {formats.count(wanted)} needed:
              <input
                name={`${ON_SHELF}${part}`}
                inputMode="numeric"
                size={3}
                defaultValue={place.shelf?.[part] ?? there ?? ''}
                autoComplete="off"
              />
            </label>
          ))}
        </fieldset>
      )}
      <button type="submit">{place.here ? 'Reckon again' : 'What to do now?'}</button>
      {place.here && <Link href={`${page}#visit`}>It is not here</Link>}
    </form>
  )
}
