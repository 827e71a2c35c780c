import { looksToMake } from '@/lib/jobs/looks-to-make'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { formatDay } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import { looksAsked } from '../looks/looks-asked'
import { looksCsv } from '../looks/looks-csv'
import { parametersIn } from '../parameters-in'

/** Exactly the looks that the page shows at the same parameters, all of them, as a CSV file. */
export async function GET(request: Request): Promise<Response> {
  const { database, organisation } = await requirePerson()
  const asked = looksAsked(parametersIn(new URL(request.url).searchParams))
  const { terms, found } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    found: await looksToMake(scope, asked),
  }))
  const day = found.asOf === null ? '' : `-${formatDay(found.asOf)}`
  return new Response(looksCsv(found.looks, terms, formatsFor(terms, terms.distance)), {
    headers: {
      'Content-Type': 'text/csv; charset=utf-8; header=present',
      'Content-Disposition': `attachment; filename="looks${day}.csv"`,
    },
  })
}
