import { Suspense } from 'react'
import { can } from '@/lib/people/permissions'
import { requirePerson } from '../require-person'
import { Frame } from '../ui/frame'
import { Keys } from '../ui/keys'
import { UndeliveredStops } from '../ui/undelivered-stops'
import { CAUTION } from '../ui/words'
import { BeingScored } from './being-scored'
import { choicesOf } from './choices'
import { NoScores, NothingFound } from './empty-states'
import { Finder } from './finder'
import { LongListNote } from './long-list-note'
import { pageView } from './page-view'
import { ColumnPanel, FilterPanel } from './panels'
import { readWatchlistPage, type SeenWatchlist } from './read-watchlist-page'
import { SavedViewsPanel, Views } from './saved-views'
import { StandingList } from './standing-list'
import { NotLookedAt, TodaysSentence } from './todays-sentence'
import type { ParsedView } from './view'
import styles from './watchlist.module.css'
import { WatchlistTable } from './watchlist-table'
import { WhatChanged } from './what-changed'

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/** The home page: what is likely to go next, and what to do about it. */
export default async function WatchlistPage({ searchParams }: Props) {
  const { database, organisation, role } = await requirePerson()
  const { removed, ...parameters } = await searchParams
  const seen = await readWatchlistPage(database, organisation, parameters, removed)
  const page = pageView({ view: seen.parsed.view, terms: seen.terms })
  const { asks } = seen
  return (
    <Frame
      here="watchlist"
      asOf={asks.asOf === null ? null : `All numbers as of ${page.formats.longDay(asks.asOf)}`}
      choices={choicesOf(page.view, page.ownDistance, '/')}
      aside={
        <>
          <StandingList {...page} asks={asks} />
          <Keys />
        </>
      }
    >
      <h1 className="for-ears">Watchlist</h1>
      <Suspense>
        <BeingScored
          {...{ database, organisation, formats: page.formats }}
          again={asks.asOf === null ? '/' : undefined}
        />
      </Suspense>
      {asks.asOf === null ? (
        <NoScores {...{ database, organisation }} />
      ) : (
        <Watchlist seen={seen} mayWrite={can(role, 'save-views')} />
      )}
    </Frame>
  )
}

function Watchlist({ seen, mayWrite }: { seen: SeenWatchlist; mayWrite: boolean }) {
  const { parsed, terms, asks, rows, total } = seen
  const page = pageView({ view: parsed.view, terms })
  const act = asks.byStanding.stop + asks.byStanding.book > 0
  const long = rows.length < total
  return (
    <>
      <UndeliveredStops notices={seen.untold} formats={page.formats} />
      <TodaysSentence {...page} asks={asks} waitingReports={seen.waitingReports} />
      <NotLookedAt {...page} asks={asks} />
      {act && <p className={styles.caution}>{CAUTION}</p>}
      <WhatChanged {...page} changes={seen.changes} />
      <Views {...page} saved={seen.saved} panel={parsed.panel} mayWrite={mayWrite} />
      {parsed.panel === 'views' && mayWrite && (
        <SavedViewsPanel {...page} saved={seen.saved} removed={seen.removed} />
      )}
      <Finder {...page} engines={seen.engines} shown={total} of={asks.vehicles} panel={parsed.panel} />
      {parsed.panel === 'filters' && seen.choices && <FilterPanel {...page} choices={seen.choices} />}
      {parsed.panel === 'columns' && <ColumnPanel {...page} />}
      <Dropped dropped={parsed.dropped} />
      {long && <LongListNote {...page} total={total} from={parsed.from} />}
      {total > 0 ? (
        <WatchlistTable {...page} rows={rows} total={total} from={parsed.from} version={asks.version} />
      ) : (
        <NothingFound {...page} engines={seen.engines} />
      )}
    </>
  )
}

function Dropped({ dropped }: Pick<ParsedView, 'dropped'>) {
  if (dropped.length === 0) return null
  return (
    <p className={styles.notice} role="status">
      The address asked for something that this page does not know, which was left out:{' '}
      <code>{dropped.join(', ')}</code>
    </p>
  )
}
