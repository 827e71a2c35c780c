import { requirePerson } from '../../require-person'
import { toldWatchlist } from '../told-watchlist'
import { ROWS_AT_ONCE } from '../window-size'

/** A part of a long list, for the page that scrolls to it: rows from `from` on. */
export async function GET(request: Request): Promise<Response> {
  const { database, organisation } = await requirePerson()
  const { searchParams } = new URL(request.url)
  const from = Number(searchParams.get('from') ?? 0)
  if (!Number.isSafeInteger(from) || from < 0) return new Response('Which rows?\n', { status: 400 })
  const { rows } = await toldWatchlist(database, organisation, searchParams, { from, count: ROWS_AT_ONCE })
  return Response.json(rows, { headers: { 'Cache-Control': 'private, no-store' } })
}
