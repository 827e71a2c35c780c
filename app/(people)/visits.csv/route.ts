import { formatDay } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { parametersIn } from '../parameters-in'
import { readVisits } from '../visits/read-visits'
import { nameOfJob } from '../visits/visit-words'
import { visitsCsv } from '../visits/visits-csv'

/** Exactly what the list of visits shows at the same parameters, as a CSV file. */
export async function GET(request: Request): Promise<Response> {
  const { database, organisation } = await requirePerson()
  const parameters = parametersIn(new URL(request.url).searchParams)
  const { terms, found } = await readVisits({ database, organisation }, parameters, new Date())
  if (!found) return new Response('There is no library yet.\n', { status: 404 })
  if (found.done < found.total)
    return new Response('The visits are still being worked out: ask again in a moment.\n', {
      status: 503,
      headers: { 'Retry-After': '5' },
    })
  const { library, asOf, view } = found
  const jobsOf = ({ family, jobs }: (typeof view.rows)[number]) =>
    jobs.map((job) => nameOfJob(library, family, job)).join('; ')
  return new Response(visitsCsv(view.rows, { asOf, terms, jobsOf }), {
    headers: {
      'Content-Type': 'text/csv; charset=utf-8; header=present',
      'Content-Disposition': `attachment; filename="visits-${formatDay(asOf)}.csv"`,
    },
  })
}
