import { readAllCalls } from '@/lib/jobs/calls'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { formatDay } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import { callsCsv } from '../calls/calls-csv'
import { callsViewIn } from '../calls/calls-view'

/** What the page of calls shows at the same parameters, as a CSV file; every vehicle is worked out for it. */
export async function GET(request: Request): Promise<Response> {
  const { database, organisation } = await requirePerson()
  const terms = await withOrganisation(database, organisation, readTerms)
  const list = await readAllCalls(database, organisation, new Date())
  const view = callsViewIn(Object.fromEntries(new URL(request.url).searchParams))
  const told = { currency: terms.currency, formats: formatsFor(terms, terms.distance) }
  const day = list === null ? '' : `-${formatDay(list.today)}`
  return new Response(list === null ? '' : callsCsv(list, view, told), {
    headers: {
      'Content-Type': 'text/csv; charset=utf-8; header=present',
      'Content-Disposition': `attachment; filename="calls${day}.csv"`,
      'Cache-Control': 'private, no-store',
    },
  })
}
