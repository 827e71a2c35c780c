import { z } from 'zod'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { countWaitingReports } from '@/lib/store/read/driver-reports'
import { readFamilyNames } from '@/lib/store/read/family-names'
import { readRemovedView, readSavedViews, type SavedView } from '@/lib/store/read/saved-views'
import { readStopNotices, type StopNotice } from '@/lib/store/read/stop-notices'
import { readTerms, type Terms } from '@/lib/store/read/terms'
import {
  countWatchlist,
  readWatchlist,
  readWatchlistStart,
  type WatchlistRow,
} from '@/lib/store/read/watchlist'
import { readWatchlistChoices, type WatchlistChoices } from '@/lib/store/read/watchlist-choices'
import { type ChangesSince, readWhatChanged } from '@/lib/store/read/what-changed'
import { readWhatTodayAsks, type WhatTodayAsks } from '@/lib/store/read/what-today-asks'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { isNarrowed, type ParsedView, parseView, queryOf } from './view'
import { ROWS_AT_ONCE, WHOLE_UP_TO } from './window-size'

/** What the watchlist shows at an address. */
export type SeenWatchlist = {
  terms: Terms
  parsed: ParsedView
  asks: WhatTodayAsks
  changes: ChangesSince | null
  /** Vehicles that must not be driven and whose drivers nobody has told. */
  untold: StopNotice[]
  /** Drivers' reports that nobody has confirmed. */
  waitingReports: number
  saved: SavedView[]
  /** A view that was just removed and can come back. */
  removed: SavedView | null
  choices: WatchlistChoices | null
  /** The names of the engine families that the list is narrowed to, by their keys. */
  engines: ReadonlyMap<string, string>
  /** All rows of a short list; else the first part, or the one that was asked for. */
  rows: WatchlistRow[]
  total: number
}

/** Reads what the page shows, and nothing that is closed on it. */
export function readWatchlistPage(
  database: Database,
  organisation: OrganisationId,
  parameters: Record<string, string | string[] | undefined>,
  removed: string | string[] | undefined,
): Promise<SeenWatchlist> {
  return withOrganisation(database, organisation, async (scope) => {
    const terms = await readTerms(scope)
    const parsed = parseView(parameters, terms.distance)
    const asks = await readWhatTodayAsks(scope, parsed.view.horizonDays)
    const gone = z.uuid().safeParse(removed)
    return {
      terms,
      parsed,
      asks,
      untold: await readStopNotices(scope, { untold: true }),
      waitingReports: await countWaitingReports(scope),
      saved: await readSavedViews(scope),
      removed: gone.success ? await readRemovedView(scope, gone.data) : null,
      choices: parsed.panel === 'filters' ? await readWatchlistChoices(scope, parsed.view.horizonDays) : null,
      engines: await readFamilyNames(scope, parsed.view.families),
      ...(await readRows(scope, parsed, asks)),
    }
  })
}

async function readRows(
  scope: OrganisationScope,
  { view, from }: ParsedView,
  { asOf, vehicles }: WhatTodayAsks,
): Promise<Pick<SeenWatchlist, 'rows' | 'total' | 'changes'>> {
  if (asOf === null) return { rows: [], total: 0, changes: null }
  const query = queryOf(view, asOf)
  const changes = query.since === null ? null : await readWhatChanged(scope, view.horizonDays, query.since)
  const counted = view.per === 'vehicle' && !isNarrowed(view)
  if (from === null && !counted) return { ...(await readWatchlistStart(scope, query, START)), changes }
  const total = counted ? vehicles : await countWatchlist(scope, query)
  const window = total <= WHOLE_UP_TO ? undefined : { from: from ?? 0, count: ROWS_AT_ONCE }
  return { rows: await readWatchlist(scope, query, window), total, changes }
}

const START = { wholeUpTo: WHOLE_UP_TO, orFirst: ROWS_AT_ONCE }
