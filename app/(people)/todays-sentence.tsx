import Link from 'next/link'
import { Fragment, type ReactNode } from 'react'
import type { WhatTodayAsks } from '@/lib/store/read/what-today-asks'
import type { Standing } from '@/lib/store/standing'
import { countWord, slotWords } from '../ui/words'
import type { PageView } from './page-view'
import { addressOf, type View } from './view'
import styles from './watchlist.module.css'

type Props = PageView & { asks: WhatTodayAsks; slotDays: number }

/** What today asks for, in one sentence made of the counts; each part leads to its rows. */
export function TodaysSentence({ view, ownDistance, formats, asks, slotDays }: Props) {
  const link = (standing: Standing, one: string, many: string): ReactNode => {
    const count = asks.byStanding[standing]
    if (count === 0) return null
    const bare = { ...view, search: '', standings: [standing] }
    const words = `${countWord(count, formats.count)} ${count === 1 ? one : many}`
    return <Link href={addressOf(bare, ownDistance)}>{words}</Link>
  }
  const cost = `${formats.roughMoney(asks.costOfNotBooking)}`
  const parts = [
    link('stop', 'vehicle must not be driven', 'vehicles must not be driven'),
    asks.byStanding.book > 0 && (
      <>
        {link('book', 'should be booked in', 'should be booked in')}
        {asks.costOfNotBooking > 0 && `, as waiting ${slotWords(slotDays)} would cost about ${cost}`}
      </>
    ),
    link('check', 'is worth a look', 'are worth a look'),
  ].filter(Boolean)
  return (
    <p className={styles.sentence}>
      {parts.length === 0
        ? 'Nothing that we know of asks to be done today'
        : parts.map((part, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: the parts are in a fixed order
            <Fragment key={i}>
              {i > 0 && '; '}
              {part}
            </Fragment>
          ))}
      .
    </p>
  )
}

/** What the list cannot know: vehicles that nobody has ever scanned, while many faults light no lamp. */
export function NeverScanned({ view, ownDistance, formats, asks }: PageView & { asks: WhatTodayAsks }) {
  if (asks.neverScanned === 0) return null
  const longestFirst: View = { ...view, search: '', standings: [], sort: 'scan', descending: true }
  const vehicles = `${countWord(asks.neverScanned, formats.count)} vehicle${asks.neverScanned === 1 ? ' has' : 's have'}`
  return (
    <p className={styles.unseen}>
      <Link href={addressOf(longestFirst, ownDistance)}>{vehicles} never had a full scan</Link>, and many
      faults light no lamp.
    </p>
  )
}
