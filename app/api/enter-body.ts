import crypto from 'node:crypto'
import { type GivenTable, readTables, type TableRead } from '@/lib/intake/read-tables'
import type { TableKind } from '@/lib/intake/tables'
import { librarySchema } from '@/lib/records/library-schema'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readSettings } from '@/lib/store/read/settings'
import { readStandingVehicles } from '@/lib/store/read/standing-vehicles'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { type AddedRecords, addRecords } from '@/lib/store/write/add-records'
import { dayIn } from '@/lib/units/dates'
import { type BodyType, bodyType, jsonOf, readBody } from './body'
import { POSTS } from './contract'
import { answered, claimKey, keyOf } from './keyed'
import { oneAtATime } from './one-at-a-time'
import { Problem } from './problem'
import { MOST_ROWS } from './query'
import { answering, type Call, type Served } from './serve'

/** Adds the rows of a body; all that may go in does so in one transaction, with the answer where it is kept. */
export const posting = (kind: TableKind): Served => answering(POSTS[kind], (call) => enterBody(kind, call))

async function enterBody(kind: TableKind, call: Call<unknown>): Promise<Response> {
  const { request, database, present } = call
  const type = bodyType(request.headers, POSTS[kind].body.types)
  const key = keyOf(request.headers)
  const release = claimKey(present.person.id, key)
  try {
    const bytes = await readBody(request)
    const table = tableOf(kind, type, bytes)
    const keyed =
      key === null ? null : { token: present.person.id, key, hash: hashOf(kind, type, bytes), now: call.now }
    const act = (scope: OrganisationScope) => enterTable(scope, table, call)
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

const hashOf = (kind: TableKind, type: BodyType, bytes: Buffer) =>
  crypto.createHash('sha256').update(`${kind} ${type} `).update(bytes).digest('hex')

function tableOf(kind: TableKind, type: BodyType, bytes: Buffer): GivenTable {
  if (type === 'text/csv') return { name: kind, kind, bytes }
  const objects = jsonOf(bytes)
  if (!Array.isArray(objects)) throw new Problem('invalid', 'The body is no list of objects')
  if (objects.length > MOST_ROWS)
    throw new Problem('too-large', `The list has ${objects.length} objects, the most taken is ${MOST_ROWS}`)
  return { name: kind, kind, objects }
}

/** What the names in rows refer to before there is a library: nothing is known, so nothing is refused. */
const NO_LIBRARY = librarySchema.parse({ format: 'gudgeon-library/1', name: 'none yet', families: [] })

async function enterTable(
  scope: OrganisationScope,
  table: GivenTable,
  { now, present }: Call<unknown>,
): Promise<unknown> {
  const { timeZone } = await readSettings(scope)
  const library = (await readKnownLibrary(scope))?.library ?? NO_LIBRARY
  const standing = await readStandingVehicles(scope, 'objects' in table ? unitsIn(table.objects) : null)
  const [read] = readTables([table], { library, today: dayIn(timeZone, now), standing })
  if (!read) throw new Error('What was read is missing')
  if ('bytes' in table && read.heading === null)
    throw new Problem('invalid', read.rejected[0]?.reason ?? 'The body is empty')
  const added = await addRecords(scope, read.records, {
    now,
    by: present.person.id,
    defaulted: read.defaulted,
  })
  return tally(read, added.counts[table.kind], 'objects' in table ? 1 : FIRST_ROW)
}

/** The physical line of the first row below a header. */
const FIRST_ROW = 2

function tally(read: TableRead, counts: AddedRecords['counts'][TableKind], first: number) {
  return {
    accepted: counts.accepted + counts.superseded + read.replaced,
    unchanged: counts.unchanged + read.duplicates,
    rejected: read.rejected.map(({ line, column, reason }) => ({
      index: line - first,
      ...(first === FIRST_ROW ? { line } : {}),
      column,
      reason,
    })),
  }
}

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
