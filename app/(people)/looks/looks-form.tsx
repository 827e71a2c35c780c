import { LOOK_KINDS } from '@/lib/decisions/advice'
import { Link } from '../../ui/link'
import { SiteChoice } from '../../ui/site-choice'
import styles from './looks.module.css'
import type { LooksView } from './looks-asked'
import { Kept } from './looks-sections'
import { kindWords } from './looks-words'

/** How many hours there are, where, and for which kind of look. Sends itself without script. */
export function LooksForm({ asked, sites }: { asked: LooksView; sites: string[] }) {
  const narrowed = asked.hours !== null || asked.sites.length > 0 || asked.kinds.length > 0
  const choices = [...new Set([...sites, ...asked.sites])]
  return (
    <form className={styles.form} action="/looks" method="get" aria-label="Which looks">
      <Kept asked={asked} but={['hours', 'site', 'kind']} />
      <label>
        Hours for looking
        <input
          name="hours"
          inputMode="decimal"
          size={6}
          defaultValue={asked.hours ?? ''}
          placeholder="any"
          autoComplete="off"
        />
      </label>
      <SiteChoice sites={choices} value={asked.sites[0] ?? ''} />
      <label>
        Kind of look
        <select name="kind" defaultValue={asked.kinds[0] ?? ''}>
          <option value="">all kinds</option>
          {LOOK_KINDS.map((kind) => (
            <option key={kind} value={kind}>
              {kindWords(kind)}
            </option>
          ))}
        </select>
      </label>
      <button type="submit">Which first?</button>
      {narrowed && (
        <Link className={styles.all} href="/looks">
          All looks again
        </Link>
      )}
      {asked.unread.map((said) => (
        <p key={said} className={styles.unread} role="status">
          “{said}” is no number that can be used here, so it is left out.
        </p>
      ))}
    </form>
  )
}
