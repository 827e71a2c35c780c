import { partsNow } from '@/lib/jobs/parts-now'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { formatDay } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { parametersIn } from '../parameters-in'
import { inOrder, partsAsked } from '../parts/parts-asked'
import { orderCsv } from '../parts/parts-csv'

/** What the page says is to be ordered at the same parameters, as a CSV file. */
export async function GET(request: Request): Promise<Response> {
  const { database, organisation } = await requirePerson()
  const asked = partsAsked(parametersIn(new URL(request.url).searchParams))
  const { terms, found } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    found: await partsNow(scope, asked.weeks, new Date()),
  }))
  return new Response(orderCsv(inOrder(found.parts, asked.sort), found, terms.currency), {
    headers: {
      'Content-Type': 'text/csv; charset=utf-8; header=present',
      'Content-Disposition': `attachment; filename="order-${formatDay(found.today)}.csv"`,
    },
  })
}
