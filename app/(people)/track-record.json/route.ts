import { readReplay } from '@/lib/store/read/track-record'
import { withOrganisation } from '@/lib/store/with-organisation'
import { formatDay } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'

/** A replay as a file, the latest where none is named: as `npm run replay` writes it. */
export async function GET(request: Request): Promise<Response> {
  const { database, organisation } = await requirePerson()
  const id = new URL(request.url).searchParams.get('replay')
  const found = await withOrganisation(database, organisation, (scope) => readReplay(scope, id))
  if (!found) return new Response('There is no such replay.\n', { status: 404 })
  return new Response(`${found.content}\n`, {
    headers: {
      'Content-Type': 'application/json; charset=utf-8',
      'Content-Disposition': `attachment; filename="track-record-${formatDay(found.asOf)}.json"`,
    },
  })
}
