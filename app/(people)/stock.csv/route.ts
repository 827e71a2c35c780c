import { csvLine } from '@/lib/intake/csv-line'
import { formatDay } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { readStockPage } from '../stock/read-stock-page'
import { stockSort } from '../stock/stock-view'
import { harmless } from '../watchlist-csv'
import { stockCells } from './stock-cells'

/** The stock exactly as its page shows it at the same parameters, as a CSV file (RFC 4180). */
export async function GET(request: Request): Promise<Response> {
  const { database, organisation } = await requirePerson()
  const sort = stockSort(Object.fromEntries(new URL(request.url).searchParams))
  const { terms, lines, share, asOf } = await readStockPage(database, organisation, sort)
  const cells = stockCells(share, terms)
  const text = [
    csvLine(cells.map(({ heading }) => harmless(heading))),
    ...lines.map((line) => csvLine(cells.map(({ value }) => harmless(value(line))))),
  ].join('')
  return new Response(text, {
    headers: {
      'Content-Type': 'text/csv; charset=utf-8; header=present',
      'Content-Disposition': `attachment; filename="stock${asOf === null ? '' : `-${formatDay(asOf)}`}.csv"`,
    },
  })
}
