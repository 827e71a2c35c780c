import crypto from 'node:crypto'
import { type CustomerWords, findsOf } from '../customer-words'
import { lockOrganisation } from '../inner/locks'
import { newId } from '../inner/new-id'
import { readTextTables, type TextTable } from '../inner/text-columns'
import { findInText } from '../inner/words-to-find'
import type { Customer } from '../read/customer'
import { forEachFile, textOf, textOfFile } from '../read/customer-traces'
import type { OrganisationScope } from '../with-organisation'

/** What was changed: rows by table, and lines of the audit trail. */
export type Erased = { mark: string; rows: Record<string, number>; lines: number }

/**
 * Takes a customer out of every row of the organisation, for good: their name, how to reach them, plates and chassis
 * numbers become a mark that says nothing; photographs of their vehicles go. Records, lives and scores stay as they
 * are. That it was done, by whom and when, stands in the audit trail, whose earlier lines lose what they said of them.
 */
export async function eraseCustomer(
  scope: OrganisationScope,
  { customer, words }: { customer: Customer; words: CustomerWords },
  { now, by }: { now: Date; by: string },
): Promise<Erased> {
  await lockOrganisation(scope, 'records')
  await lockOrganisation(scope, 'letters')
  const touched = new Touched()
  touched.add('vehicles', await loseOwner(scope, customer))
  touched.add('photographs', await losePhotographs(scope, customer))
  touched.add('driver_reports', await loseDrivers(scope, customer))
  for (const table of await readTextTables(scope))
    touched.add(table.table, await loseWords(scope, table, words))
  touched.add('intake_files', await loseWordsInFiles(scope, words))
  touched.add('workbooks', await emptyWorkbooks(scope))
  const rows = touched.rows()
  return { mark: words.mark, rows, lines: await writeDown(scope, words, rows, { now, by }) }
}

type Row = { id: string | null }

/** Rows that lost something, each counted once. */
class Touched {
  private readonly ids = new Map<string, Set<string | symbol>>()

  add(table: string, rows: Row[]): void {
    const ids = this.ids.get(table) ?? new Set()
    for (const { id } of rows) ids.add(id ?? Symbol()) // a row without an id is changed in one place alone
    if (ids.size > 0) this.ids.set(table, ids)
  }

  rows(): Record<string, number> {
    return Object.fromEntries([...this.ids].map(([table, ids]) => [table, ids.size]))
  }
}

/** The plate goes, not its letters alone: nobody is to be asked for a vehicle by a mark. */
function loseOwner({ tx }: OrganisationScope, { vehicles }: Customer): Promise<Row[]> {
  const ids = vehicles.filter(({ until }) => until === null).map(({ id }) => id)
  return tx.$queryRaw<Row[]>`
    update vehicles set contact = null, plate = null, vin = null where id = any(${ids}::uuid[])
    returning id::text`
}

/** Pictures show plates, yards and people. Of a vehicle that has another owner since, those taken before go. */
async function losePhotographs({ tx }: OrganisationScope, { vehicles }: Customer): Promise<Row[]> {
  const removed: Row[] = []
  for (const { id, until } of vehicles)
    removed.push(
      ...(await tx.$queryRaw<Row[]>`
        delete from photographs where vehicle_id = ${id}::uuid
          and (${until}::timestamptz is null or entered_at <= ${until}) returning id::text`),
    )
  return removed
}

/** Who drives somebody's vehicle leads to them. */
async function loseDrivers({ tx }: OrganisationScope, { vehicles }: Customer): Promise<Row[]> {
  const changed: Row[] = []
  for (const { id, until } of vehicles)
    changed.push(
      ...(await tx.$queryRaw<Row[]>`
        update driver_reports set driver = null where vehicle_id = ${id}::uuid and driver is not null
          and (${until}::timestamptz is null or received_at <= ${until}) returning id::text`),
    )
  return changed
}

const quoted = (name: string) => `"${name.replaceAll('"', '""')}"`

function loseWords(
  { tx, organisation }: OrganisationScope,
  { table, hasId, columns }: TextTable,
  words: CustomerWords,
): Promise<Row[]> {
  const { finds, puts } = findsOf(words)
  const set = columns.map(
    ({ name, type }) => `${quoted(name)} = without_words(${quoted(name)}::text, $2, $3)::${type}`,
  )
  return tx.$queryRawUnsafe<Row[]>(
    `update ${quoted(table)} set ${set.join(', ')} where organisation_id = $1::uuid and ${textOf(columns)} ~* $4
     returning ${hasId ? 'id::text' : 'null::text'} as id`,
    ...[organisation, finds, puts, finds.join('|')],
  )
}

/** Files are kept to be mended and looked over again: they stay what they are, without the words. */
async function loseWordsInFiles(scope: OrganisationScope, words: CustomerWords): Promise<Row[]> {
  const finds = words.all.map(({ word, put }) => ({ find: findInText(word), put }))
  const changed: Row[] = []
  await forEachFile(scope, async ({ id, bytes }) => {
    const text = textOfFile(bytes)
    const without = withoutWords(text, finds)
    if (without === text) return
    const content = Buffer.from(without)
    const hash = crypto.createHash('sha256').update(content).digest()
    await scope.tx.$executeRaw`
      update intake_files set content = ${content}, hash = ${hash} where id = ${id}::uuid`
    changed.push({ id })
  })
  return changed
}

type Finds = { find: RegExp; put: string }[]

/** In a library, which is JSON, only texts: a number stays a number. */
function withoutWords(text: string, finds: Finds): string {
  const put = (told: string) => finds.reduce((rest, { find, put }) => rest.replace(find, put), told)
  if (!/^\s*\{/.test(text) || put(text) === text) return put(text)
  try {
    return JSON.stringify(JSON.parse(text, (_, value) => (typeof value === 'string' ? put(value) : value)))
  } catch {
    return put(text) // it only looks like JSON
  }
}

/** What stands in a workbook cannot be looked for without opening each: none is kept. What its columns mean stays. */
function emptyWorkbooks({ tx }: OrganisationScope): Promise<Row[]> {
  return tx.$queryRaw<Row[]>`
    update workbooks set content = '' where octet_length(content) > 0 returning id::text`
}

async function writeDown(
  { tx }: OrganisationScope,
  words: CustomerWords,
  rows: Record<string, number>,
  { now, by }: { now: Date; by: string },
): Promise<number> {
  const { finds, puts } = findsOf(words)
  const [done] = await tx.$queryRaw<{ lines: number }[]>`
    select erase_from_audit(${finds}::text[], ${puts}::text[], ${newId(now)}::uuid, ${words.mark},
      ${JSON.stringify(rows)}::jsonb, ${now}, ${by}::uuid) as lines`
  return done?.lines ?? 0
}
