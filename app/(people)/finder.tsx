import Form from 'next/form'
import Link from 'next/link'
import { ADVICE } from '../ui/words'
import type { PageView } from './page-view'
import { addressOf, parametersOf } from './view'
import styles from './watchlist.module.css'

type Props = PageView & { shown: number; of: number }

/** Search, and what narrows the list now. */
export function Finder({ view, ownDistance, formats, shown, of }: Props) {
  const others = parametersOf(view, ownDistance).filter(([name]) => name !== 'q')
  const narrowed = view.search !== '' || view.standings.length > 0
  return (
    <search className={styles.finder}>
      <Form action="/" scroll={false}>
        {others.map(([name, value]) => (
          <input key={name} type="hidden" name={name} value={value} />
        ))}
        <label className="for-ears" htmlFor="find">
          Find vehicles
        </label>
        <input
          key={view.search}
          id="find"
          className={styles.find}
          type="search"
          name="q"
          defaultValue={view.search}
          placeholder="Find a vehicle, site, engine, weak point"
          autoComplete="off"
        />
      </Form>
      <p role="status">
        {narrowed
          ? `${formats.count(shown)} of ${formats.count(of)} vehicles`
          : `${formats.count(of)} vehicles`}
        {view.standings.length > 0 && `, ${view.standings.map((standing) => ADVICE[standing]).join(' or ')}`}
        {view.search !== '' && `, with “${view.search}”`}
      </p>
      {narrowed && (
        <Link href={addressOf({ ...view, search: '', standings: [] }, ownDistance)}>Show all</Link>
      )}
    </search>
  )
}
