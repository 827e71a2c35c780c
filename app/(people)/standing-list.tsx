import type { WhatTodayAsks } from '@/lib/store/read/what-today-asks'
import { STANDINGS } from '@/lib/store/standing'
import { AdviceMark } from '../ui/advice-mark'
import { Link } from '../ui/link'
import type { PageView } from './page-view'
import styles from './standing-list.module.css'
import { addressOf, withStanding } from './view'

/** Every advice with its shape and how many vehicles have it: the key to the shapes, and a filter. */
export function StandingList({ view, ownDistance, formats, asks }: PageView & { asks: WhatTodayAsks }) {
  const present = STANDINGS.filter((standing) => asks.byStanding[standing] > 0)
  if (present.length === 0) return null
  return (
    <nav className={styles.list} aria-label="Advice">
      <ul>
        {present.map((standing) => (
          <li key={standing}>
            <Link
              href={addressOf(withStanding(view, standing), ownDistance)}
              aria-current={view.standings.includes(standing) ? 'true' : undefined}
              scroll={false}
            >
              <AdviceMark standing={standing} />
              <span className={styles.count}>{formats.count(asks.byStanding[standing])}</span>
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  )
}
