import { csvLine } from '@/lib/intake/csv-line'
import { formatDay } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { moneyAsked } from '../money/money-asked'
import { readMoneyPage } from '../money/read-money-page'
import { harmless } from '../watchlist-csv'

const HEADINGS = [
  ...['kind', 'engine', 'name', 'vehicles'],
  ...['failures', 'failures_low', 'failures_high', 'money', 'money_low', 'money_high'],
]

/** The coming quarter exactly as its page shows it at the same parameters, as a CSV file (RFC 4180). */
export async function GET(request: Request): Promise<Response> {
  const { database, organisation } = await requirePerson()
  const asked = moneyAsked(Object.fromEntries(new URL(request.url).searchParams))
  const { points, sites, report } = await readMoneyPage(database, organisation, asked)
  const rows = [
    ...points.map((line) => ({ ...line, kind: 'weak point' })),
    ...sites.map((line) => ({ ...line, kind: 'site' })),
  ]
  const text = [
    csvLine(HEADINGS),
    ...rows.map(({ kind, beside, name, vehicles, failures, money }) =>
      csvLine([
        ...[kind, harmless(beside), harmless(name), String(vehicles)],
        ...[failures.mean, failures.low, failures.high].map(String),
        ...[money?.mean, money?.low, money?.high].map((each) => (each === undefined ? '' : String(each))),
      ]),
    ),
  ].join('')
  return new Response(text, {
    headers: {
      'Content-Type': 'text/csv; charset=utf-8; header=present',
      'Content-Disposition': `attachment; filename="money${report ? `-${formatDay(report.asOf)}` : ''}.csv"`,
    },
  })
}
