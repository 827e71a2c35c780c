import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readStandings } from '@/lib/store/read/standings'
import { readTerms, type Terms } from '@/lib/store/read/terms'
import { type RowWindow, readWatchlist, type WatchlistRow } from '@/lib/store/read/watchlist'
import { withOrganisation } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { type ParsedView, parseView, queryOf } from './view'

export type ToldWatchlist = {
  terms: Terms
  parsed: ParsedView
  rows: WatchlistRow[]
  /** The day that the scores speak of; null before the first. */
  asOf: Day | null
  /** Of the scores that the rows were read from. */
  version: string
}

/** The rows that an address of the watchlist stands for, and what they are told in. */
export function toldWatchlist(
  database: Database,
  organisation: OrganisationId,
  parameters: Record<string, string[]>,
  window?: RowWindow,
): Promise<ToldWatchlist> {
  return withOrganisation(database, organisation, async (scope) => {
    const terms = await readTerms(scope)
    const parsed = parseView(parameters, terms.distance)
    const { asOf, version } = await readStandings(scope, parsed.view.horizonDays)
    const rows = asOf === null ? [] : await readWatchlist(scope, queryOf(parsed.view, asOf), window)
    return { terms, parsed, rows, asOf, version }
  })
}
