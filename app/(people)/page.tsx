import { readTerms } from '@/lib/store/read/terms'
import { readWatchlist } from '@/lib/store/read/watchlist'
import { readWhatTodayAsks } from '@/lib/store/read/what-today-asks'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../require-person'
import { formatsFor } from '../ui/formats'
import { Frame } from '../ui/frame'
import { Keys } from '../ui/keys'
import { CAUTION } from '../ui/words'
import { choicesOf } from './choices'
import { NoScores, NothingFound } from './empty-states'
import { Finder } from './finder'
import { StandingList } from './standing-list'
import { NeverScanned, TodaysSentence } from './todays-sentence'
import { type ParsedView, parseView } from './view'
import styles from './watchlist.module.css'
import { WatchlistTable } from './watchlist-table'

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/** The home page: what is likely to go next, and what to do about it. */
export default async function WatchlistPage({ searchParams }: Props) {
  const { database, organisation } = await requirePerson()
  const parameters = await searchParams
  const { terms, parsed, asks, rows } = await withOrganisation(database, organisation, async (scope) => {
    const terms = await readTerms(scope)
    const parsed = parseView(parameters, terms.distance)
    const asks = await readWhatTodayAsks(scope, parsed.view.horizonDays)
    return { terms, parsed, asks, rows: await readWatchlist(scope, parsed.view) }
  })
  const { view } = parsed
  const formats = formatsFor(terms, view.distance)
  const page = { view, ownDistance: terms.distance, formats }
  const act = asks.byStanding.stop + asks.byStanding.book > 0

  return (
    <Frame
      here="watchlist"
      asOf={asks.asOf === null ? null : `All numbers as of ${formats.longDay(asks.asOf)}`}
      choices={choicesOf(view, terms.distance, '/')}
      aside={
        <>
          <StandingList {...page} asks={asks} />
          <Keys />
        </>
      }
    >
      <h1 className="for-ears">Watchlist</h1>
      {asks.asOf === null ? (
        <NoScores />
      ) : (
        <>
          <TodaysSentence {...page} asks={asks} slotDays={terms.slotDays} />
          <NeverScanned {...page} asks={asks} />
          {act && <p className={styles.caution}>{CAUTION}</p>}
          <Finder {...page} shown={rows.length} of={asks.vehicles} />
          <Dropped dropped={parsed.dropped} />
          {rows.length > 0 ? (
            <WatchlistTable {...page} rows={rows} slotDays={terms.slotDays} />
          ) : (
            <NothingFound {...page} />
          )}
        </>
      )}
    </Frame>
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
