import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { withOrganisation } from '@/lib/store/with-organisation'
import { changeLibrary } from '@/lib/store/write/change-library'
import { bodyType, readBody, textOf } from '../../body'
import { PUT_LIBRARY, SHOW_LIBRARY } from '../../contract'
import { oneAtATime } from '../../one-at-a-time'
import { Problem } from '../../problem'
import { answering, serve } from '../../serve'

const show = answering(SHOW_LIBRARY, async ({ database, present }) => {
  const stored = await withOrganisation(database, present.organisation, readLibraryInForce)
  if (!stored) throw new Problem('not-found', 'There is no library yet; put one')
  return new Response(stored.content, { headers: { 'Content-Type': 'application/json' } })
})

const put = answering(PUT_LIBRARY, async ({ request, database, present, now }) => {
  bodyType(request.headers, PUT_LIBRARY.body.types)
  const content = textOf(await readBody(request))
  const changed = await oneAtATime(present.organisation, () =>
    withOrganisation(
      database,
      present.organisation,
      (scope) => changeLibrary(scope, { content, now, by: present.person.id }),
      'write',
    ),
  )
  if (changed.ok) return Response.json({ version: changed.version })
  if (changed.reason === 'invalid')
    throw new Problem('invalid', 'The library is not valid; nothing of it was taken', {
      errors: changed.errors,
    })
  const named = changed.keys.map(({ kind, family, key }) => `${kind} ${key} of ${family}`).join(', ')
  throw new Problem('keys-in-use', `Keep these with "retired": true: ${named}`, { keys: changed.keys })
})

export const { GET, POST, PUT, PATCH, DELETE, OPTIONS } = serve({ GET: show, PUT: put })
