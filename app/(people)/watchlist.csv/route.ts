import { formatDay } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { toldWatchlist } from '../told-watchlist'
import { watchlistCsv } from '../watchlist-csv'

/** Exactly what the watchlist shows at the same parameters, all of its rows, as a CSV file. */
export async function GET(request: Request): Promise<Response> {
  const { database, organisation } = await requirePerson()
  const { terms, parsed, rows } = await toldWatchlist(
    database,
    organisation,
    new URL(request.url).searchParams,
  )
  const day = rows[0] ? `-${formatDay(rows[0].asOf)}` : ''
  return new Response(watchlistCsv(rows, { view: parsed.view, terms }), {
    headers: {
      'Content-Type': 'text/csv; charset=utf-8; header=present',
      'Content-Disposition': `attachment; filename="watchlist${day}.csv"`,
    },
  })
}
