import { requirePerson } from '../../require-person'
import { parametersIn } from '../parameters-in'
import { toldWatchlist } from '../told-watchlist'
import type { ListPart } from '../use-parts'
import { ROWS_AT_ONCE } from '../window-size'

/** A part of a long list, for the page that scrolls to it: rows from `from` on. */
export async function GET(request: Request): Promise<Response> {
  const { database, organisation } = await requirePerson()
  const { searchParams } = new URL(request.url)
  const from = Number(searchParams.get('from') ?? 0)
  if (!Number.isSafeInteger(from) || from < 0) return new Response('Which rows?\n', { status: 400 })
  const window = { from, count: ROWS_AT_ONCE }
  const { rows, version } = await toldWatchlist(database, organisation, parametersIn(searchParams), window)
  const part: ListPart = { rows, version }
  return Response.json(part, { headers: { 'Cache-Control': 'private, no-store' } })
}
