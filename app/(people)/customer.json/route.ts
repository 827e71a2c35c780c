import { readEverythingOf } from '@/lib/store/read/everything-of-customer'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { nameAsked } from '../customer/customer-asked'
import { NOBODY } from '../customer/customer-words'
import { parametersIn } from '../parameters-in'

/** Everything known of a customer, in one file. */
export async function GET(request: Request): Promise<Response> {
  const { database, organisation } = await requirePerson('erase-customers')
  const name = nameAsked(parametersIn(new URL(request.url).searchParams)) ?? ''
  const now = new Date()
  const everything = await withOrganisation(
    database,
    organisation,
    (scope) => readEverythingOf(scope, name, now),
    'whole',
  )
  if (everything === null) return new Response(`${NOBODY(name)}\n`, { status: 404 })
  return new Response(`${JSON.stringify(everything, null, 2)}\n`, {
    headers: {
      'Content-Type': 'application/json; charset=utf-8',
      'Content-Disposition': 'attachment; filename="customer.json"',
      'Cache-Control': 'private, no-store',
    },
  })
}
