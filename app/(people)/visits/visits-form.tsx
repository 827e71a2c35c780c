import styles from './visits.module.css'
import type { VisitsAsked } from './visits-asked'

type Props = { asked: VisitsAsked; usualHours: number | null; sites: string[] }

/** How many hours there are, for which site. */
export function VisitsForm({ asked: { hours, unread, site, sort }, usualHours, sites }: Props) {
  return (
    <form className={styles.form} action="/visits" method="get">
      <label>
        {usualHours !== null && hours === usualHours
          ? 'Hours (the bays’, of a week)'
          : 'Hours that there are'}
        <input
          name="hours"
          inputMode="decimal"
          size={6}
          defaultValue={hours ?? ''}
          autoComplete="off"
          aria-describedby={unread ? 'unread' : undefined}
        />
      </label>
      {sites.length > 0 && (
        <label>
          Site
          <select name="site" defaultValue={site ?? ''}>
            <option value="">all sites</option>
            {sites.map((each) => (
              <option key={each}>{each}</option>
            ))}
          </select>
        </label>
      )}
      <input type="hidden" name="sort" value={`${sort.descending ? '-' : ''}${sort.column}`} />
      <button type="submit">Rank them</button>
      {unread && (
        <p id="unread" className={styles.unread}>
          {unread}
        </p>
      )}
    </form>
  )
}
