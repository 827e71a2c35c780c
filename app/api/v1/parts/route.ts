import { readParts } from '@/lib/intake/read-parts'
import { rowObject } from '@/lib/intake/row-object'
import { partsUsed } from '@/lib/records/parts-used'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readPartsToWrite } from '@/lib/store/read/part-lines'
import { withOrganisation } from '@/lib/store/with-organisation'
import { stateParts } from '@/lib/store/write/state-parts'
import { LIST_PARTS, PUT_PARTS } from '../../contract'
import { readCursor, writeCursor } from '../../cursor'
import { enterBody, refuseUnread, rejectedOf } from '../../enter-body'
import { answering, serve } from '../../serve'

const list = answering(LIST_PARTS, async ({ database, present, query: { after, limit } }) => {
  const [from] = after === undefined ? [null] : readCursor(after, ['string'])
  const parts = (await withOrganisation(database, present.organisation, readPartsToWrite))
    .filter(({ part }) => from === null || part > from)
    .sort((a, b) => (a.part < b.part ? -1 : 1))
  const shown = parts.slice(0, limit)
  const last = shown.at(-1)
  return Response.json({
    items: shown.map((part) => rowObject('parts', part)),
    next: last && parts.length > limit ? writeCursor([last.part]) : null,
  })
})

const put = answering(PUT_PARTS, (call) =>
  enterBody(PUT_PARTS, call, async (scope, body, { now, present }) => {
    const known = await readKnownLibrary(scope)
    const read = readParts({ name: 'parts', ...body }, new Set(partsUsed(known?.library ?? NONE).keys()))
    refuseUnread(body, read)
    const said = read.parts.map((row) => ({ ...row, whole: false }))
    const { accepted, superseded, unchanged } = await stateParts(scope, said, { now, by: present.person.id })
    return { accepted: accepted + superseded, unchanged, rejected: rejectedOf(body, read) }
  }),
)

const NONE = { families: [] }

export const { GET, POST, PUT, PATCH, DELETE, OPTIONS } = serve({ GET: list, PUT: put })
