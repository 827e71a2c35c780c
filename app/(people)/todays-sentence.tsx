import { Fragment, type ReactNode } from 'react'
import type { WhatTodayAsks } from '@/lib/store/read/what-today-asks'
import type { Standing } from '@/lib/store/standing'
import { Link } from '../ui/link'
import { betweenAmounts, countWord, slotWords } from '../ui/words'
import type { PageView } from './page-view'
import { waitingWords } from './reports/report-words'
import { addressOf, unfiltered, type View } from './view'
import styles from './watchlist.module.css'

type Props = PageView & { asks: WhatTodayAsks }

/** What today asks for, in one sentence made of the counts; each part leads to its rows. */
export function TodaysSentence({
  view,
  ownDistance,
  formats,
  terms,
  asks,
  waitingReports,
}: Props & { waitingReports: number }) {
  const link = (standing: Standing, one: string, many: string): ReactNode => {
    const count = asks.byStanding[standing]
    if (count === 0) return null
    const rows: View = { ...unfiltered(view), per: 'vehicle', standings: [standing] }
    const words = `${countWord(count, formats.count)} ${count === 1 ? one : many}`
    return <Link href={addressOf(rows, ownDistance)}>{words}</Link>
  }
  const saving = `${formats.roughMoney(asks.costOfNotBooking)}${betweenAmounts(asks.bandOfNotBooking, formats.roughMoney)}`
  const slot = slotWords(terms.slotDays)
  const parts = [
    link('stop', 'vehicle must not be driven', 'vehicles must not be driven'),
    asks.byStanding.book > 0 && (
      <>
        {link('book', `visit within ${slot}`, `visits within ${slot}`)}
        {asks.costOfNotBooking > 0 && ` would save about ${saving}`}
      </>
    ),
    asks.byStanding.check > 0 && (
      <>
        {link('check', 'vehicle is worth a look', 'vehicles are worth a look')} (
        <Link href="/looks">what to look for</Link>)
      </>
    ),
    waitingReports > 0 && <Link href="/reports">{waitingWords(waitingReports, formats.count)}</Link>,
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

const TO_LOOK_AT_FIRST = 20

/** What the list cannot know: vehicles that nobody has looked at, or scanned, while many faults light no lamp. */
export function NotLookedAt(page: Props) {
  const { asks } = page
  if (asks.assessed > 0 && asks.neverLookedAt === asks.assessed)
    return (
      <>
        <NobodyHasLooked {...page} />
        <NextLevel asks={asks} />
      </>
    )
  return (
    <>
      <NextLevel asks={asks} />
      {asks.neverScanned > 0 && <NeverScanned {...page} />}
    </>
  )
}

/** What would make the list rest on more than mileage and what the library states, the cheapest first. */
function NextLevel({ asks: { assessed, hasWork, hasBreakdowns } }: Pick<Props, 'asks'>) {
  if (assessed === 0 || hasBreakdowns) return null
  return (
    <p className={styles.unseen}>
      {hasWork
        ? 'No breakdown is on record yet, so how long parts last is what the library states. '
        : 'No work is on record yet, so every part counts as the one that it left the factory with. '}
      <Link href="/intake">Bring in</Link>{' '}
      {hasWork
        ? 'the breakdowns of the last twelve months: from about twenty on, it learns how long they last here.'
        : 'the last services first (what was replaced, on which vehicle, when), then twelve months of breakdowns.'}
    </p>
  )
}

/** Many faults light no lamp. */
function NeverScanned({ view, ownDistance, formats, asks }: Props) {
  const rows: View = {
    ...unfiltered(view),
    marks: ['never-scanned'],
    sort: [{ column: 'combined', descending: true }],
  }
  const vehicles = `${countWord(asks.neverScanned, formats.count)} vehicle${asks.neverScanned === 1 ? ' has' : 's have'}`
  return (
    <p className={styles.unseen}>
      <Link href={addressOf(rows, ownDistance)}>{vehicles} never had a full scan</Link>, and many faults light
      no lamp: <Link href="/looks#unscanned">which may be going unseen</Link>.
    </p>
  )
}

/** A list that rests on mileage and what the library states, and on nothing that anybody has seen. */
function NobodyHasLooked({ view, ownDistance, formats, asks }: Props) {
  const first = Math.min(TO_LOOK_AT_FIRST, asks.assessed)
  const hours = formats.decimal(first * asks.scanHours)
  const likeliest: View = {
    ...unfiltered(view),
    per: 'vehicle',
    sort: [{ column: 'combined', descending: true }],
  }
  return (
    <p className={styles.notice}>
      Nobody has looked yet: this list rests on mileage and on what the library states. Look at{' '}
      <Link href={addressOf(likeliest, ownDistance)}>
        {first === 1
          ? 'the one that is likeliest to fail'
          : `the ${countWord(first, formats.count)} likeliest to fail`}
      </Link>{' '}
      first; {first === 1 ? 'a scan takes' : 'scans of them take'} about {hours} hours.
    </p>
  )
}
