import type { NO_FILTERS } from '@/lib/store/read/watchlist-query'
import { Link } from '../ui/link'
import { STATUSES } from '../ui/record-words'
import { ADVICE, CHANGE_WORDS, MARKS } from '../ui/words'
import type { PageView } from './page-view'
import { addressOf, type View } from './view'
import styles from './watchlist.module.css'

type Field = keyof typeof NO_FILTERS

/** What each filter says of a row. */
const SAID: Record<Field, (values: readonly string[], ofFamily: (key: string) => string) => string> = {
  search: (values) => `with “${values.join('')}”`,
  standings: (values) => either(values.map((value) => ADVICE[value as keyof typeof ADVICE])),
  families: (values, ofFamily) => either(values.map(ofFamily)),
  sites: (values) => `at ${either(values)}`,
  customers: (values) => `of ${either(values)}`,
  weakPoints: (values) => either(values),
  statuses: (values) => either(values.map((value) => STATUSES[value as keyof typeof STATUSES])),
  marks: (values) => values.map((value) => MARKS[value as keyof typeof MARKS]).join(' and '),
  changes: (values) => either(values.map((value) => CHANGE_WORDS[value as keyof typeof CHANGE_WORDS].filter)),
  units: (values) => (values.length > 3 ? `${values.length} chosen ones` : either(values)),
}

const either = (values: readonly string[]) => values.join(' or ')

/** What narrows a view, in the words of each filter. @param engines the names of the engine families by their keys */
export function filtersOf(
  view: View,
  engines: ReadonlyMap<string, string>,
): { field: Field; words: string }[] {
  return (Object.keys(SAID) as Field[]).flatMap((field) => {
    const values = field === 'search' ? [view.search].filter(Boolean) : (view[field] as string[])
    return values.length === 0
      ? []
      : [{ field, words: SAID[field](values, (key) => engines.get(key) ?? key) }]
  })
}

export const without = (view: View, field: Field): View => ({
  ...view,
  [field]: field === 'search' ? '' : [],
})

/** Each filter as a link that drops it. */
export function FilterChips({
  view,
  ownDistance,
  engines,
}: PageView & { engines: ReadonlyMap<string, string> }) {
  return (
    <ul aria-label="Filters in force">
      {filtersOf(view, engines).map(({ field, words }) => (
        <li key={field}>
          <Link className={styles.chip} href={addressOf(without(view, field), ownDistance)} scroll={false}>
            {words}
            <span aria-hidden="true">×</span>
            <span className="for-ears">: drop this filter</span>
          </Link>
        </li>
      ))}
    </ul>
  )
}
