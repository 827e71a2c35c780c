import crypto from 'node:crypto'
import { readTables } from '@/lib/intake/read-tables'
import type { GivenTable, TableRead } from '@/lib/intake/table-read'
import type { TableKind } from '@/lib/intake/tables'
import { librarySchema } from '@/lib/records/library-schema'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readSettings } from '@/lib/store/read/settings'
import { readStandingVehicles } from '@/lib/store/read/standing-vehicles'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { dayIn } from '@/lib/units/dates'
import { type BodyType, bodyType, jsonOf, readBody } from './body'
import { type Endpoint, POSTS } from './contract'
import { answered, claimKey, keyOf } from './keyed'
import { oneAtATime } from './one-at-a-time'
import { Problem } from './problem'
import { MOST_ROWS } from './query'
import { answering, type Call, type Served } from './serve'

/** What a body holds: the bytes of a file, or the objects of a list. */
export type Body = { bytes: Uint8Array } | { objects: readonly unknown[] }

/** What became of the rows of a body, as it is answered. */
export type Entered = {
  accepted: number
  unchanged: number
  rejected: { index: number; line?: number; column: string; reason: string }[]
}

type Enter = (scope: OrganisationScope, body: Body, call: Call<unknown>) => Promise<Entered>

/** Adds the rows of a body. */
export const posting = (kind: TableKind): Served =>
  answering(POSTS[kind], (call) =>
    enterBody(POSTS[kind], call, (scope, body) => enterTable(scope, { name: kind, kind, ...body }, call)),
  )

/**
 * Enters the rows of a body; all that may go in does so in one transaction, with the answer where it is kept.
 *
 * @param endpoint one with a body
 */
export async function enterBody(
  { path, body: taken }: Endpoint,
  call: Call<unknown>,
  enter: Enter,
): Promise<Response> {
  const { request, database, present } = call
  const type = bodyType(request.headers, taken?.types ?? [])
  const key = keyOf(request.headers)
  const release = claimKey(present.person.id, key)
  try {
    const bytes = await readBody(request)
    const body = bodyOf(type, bytes)
    const keyed =
      key === null
        ? null
        : { sender: present.person.id, key, hash: hashOf(path.slice(1), type, bytes), now: call.now }
    const act = (scope: OrganisationScope) => enter(scope, body, call)
    return await oneAtATime(present.organisation, () =>
      withOrganisation(
        database,
        present.organisation,
        (scope) => answered(scope, keyed, () => act(scope)),
        'write',
      ),
    )
  } finally {
    release()
  }
}

const hashOf = (name: string, type: BodyType, bytes: Buffer) =>
  crypto.createHash('sha256').update(`${name} ${type} `).update(bytes).digest('hex')

function bodyOf(type: BodyType, bytes: Buffer): Body {
  if (type === 'text/csv') return { bytes }
  const objects = jsonOf(bytes)
  if (!Array.isArray(objects)) throw new Problem('invalid', 'The body is no list of objects')
  if (objects.length > MOST_ROWS)
    throw new Problem('too-large', `The list has ${objects.length} objects, the most taken is ${MOST_ROWS}`)
  return { objects }
}

/** What the names in rows refer to before there is a library: nothing is known, so nothing is refused. */
const NO_LIBRARY = librarySchema.parse({ format: 'gudgeon-library/1', name: 'none yet', families: [] })

async function enterTable(
  scope: OrganisationScope,
  table: GivenTable,
  { now, present }: Call<unknown>,
): Promise<Entered> {
  const { timeZone } = await readSettings(scope)
  const library = (await readKnownLibrary(scope))?.library ?? NO_LIBRARY
  const standing = await readStandingVehicles(scope, 'objects' in table ? unitsIn(table.objects) : null)
  const [read] = readTables([table], { library, today: dayIn(timeZone, now), standing })
  if (!read) throw new Error('What was read is missing')
  refuseUnread(table, read)
  const added = await addRecords(scope, read.records, {
    now,
    by: present.person.id,
    defaulted: read.defaulted,
  })
  const { accepted, superseded, unchanged } = added.counts[table.kind]
  return {
    accepted: accepted + superseded + read.replaced,
    unchanged: unchanged + read.duplicates,
    rejected: rejectedOf(table, read),
  }
}

type Read = Pick<TableRead, 'heading' | 'rejected'>

/** A file whose rows could not be read is wrong as a whole. @throws Problem `invalid` */
export function refuseUnread(body: Body, { heading, rejected }: Read): void {
  if ('bytes' in body && heading === null)
    throw new Problem('invalid', rejected[0]?.reason ?? 'The body is empty')
}

/** The physical line of the first row below a header. */
const FIRST_ROW = 2

export const rejectedOf = (body: Body, { rejected }: Read): Entered['rejected'] =>
  rejected.map(({ line, column, reason }) =>
    'bytes' in body ? { index: line - FIRST_ROW, line, column, reason } : { index: line - 1, column, reason },
  )

/** The vehicles that objects name: only those need to be looked up. */
function unitsIn(objects: readonly unknown[]): string[] {
  const units = new Set<string>()
  for (const object of objects)
    if (typeof object === 'object' && object !== null)
      for (const [name, value] of Object.entries(object))
        if (isUnit(name) && (typeof value === 'string' || typeof value === 'number'))
          units.add(String(value).trim())
  return [...units].filter((unit) => !NO_TEXT.test(unit))
}

const isUnit = (name: string) => name.trim().toLowerCase() === 'unit'

/** What the database cannot keep, so that no vehicle is called so. */
const NO_TEXT = /\0|\p{Surrogate}/u
