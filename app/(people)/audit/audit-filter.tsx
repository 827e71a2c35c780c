import { Link } from '../../ui/link'
import styles from './audit.module.css'
import type { AuditAsked } from './audit-asked'
import { actorWords, THINGS } from './audit-words'

type Props = { asked: AuditAsked; actors: string[]; names: ReadonlyMap<string, string> }

const byWords = (a: { words: string }, b: { words: string }) => a.words.localeCompare(b.words, 'en')

const KINDS = Object.entries(THINGS)
  .map(([what, { many }]) => ({ what, words: many }))
  .sort(byWords)

/** By whom, of what, of which vehicle, from when until when. */
export function AuditFilter({ asked, actors, names }: Props) {
  const people = actors.map((actor) => ({ actor, words: actorWords(actor, names) })).sort(byWords)
  return (
    <form className={styles.find} action="/audit" method="get" aria-label="Which lines">
      <label>
        Who
        <select name="who" defaultValue={asked.actor ?? ''}>
          <option value="">everybody</option>
          {people.map(({ actor, words }) => (
            <option key={actor} value={actor}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label>
        What
        <select name="what" defaultValue={asked.what ?? ''}>
          <option value="">everything</option>
          {KINDS.map(({ what, words }) => (
            <option key={what} value={what}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label>
        Vehicle, by its number
        <input name="vehicle" defaultValue={asked.unit ?? ''} autoComplete="off" />
      </label>
      <label>
        From
        <input type="date" name="since" defaultValue={asked.since ?? ''} />
      </label>
      <label>
        Until
        <input type="date" name="until" defaultValue={asked.until ?? ''} />
      </label>
      <button type="submit">Show</button>
      {Object.values(asked).some((value) => value !== null) && <Link href="/audit">Everything again</Link>}
    </form>
  )
}
