import { readLibraryVersion } from '@/lib/store/read/library-versions'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'

const VERSION = /^[1-9]\d{0,8}$/

/** A version of the library as a file, just as its author wrote it. */
export async function GET(
  _: Request,
  { params }: { params: Promise<{ version: string }> },
): Promise<Response> {
  const { version } = await params
  const { database, organisation } = await requirePerson()
  const found = VERSION.test(version)
    ? await withOrganisation(database, organisation, (scope) => readLibraryVersion(scope, Number(version)))
    : null
  if (!found) return new Response('There is no such version of the library.\n', { status: 404 })
  const file = encodeURIComponent(`${found.name} ${version}.json`)
  return new Response(found.content, {
    headers: {
      'Content-Type': 'application/json; charset=utf-8',
      'Content-Disposition': `attachment; filename="library-${version}.json"; filename*=UTF-8''${file}`,
    },
  })
}
