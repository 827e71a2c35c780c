import type { Records } from '@/lib/records/rows'
import type { Entry, EntryCounts } from '../entry'
import type { OrganisationScope } from '../with-organisation'
import { type Column, columnsOf } from './columns'
import { contentHash } from './content-hash'
import { arrayText, columnArrays, inChunks, sqlParts } from './insert-rows'
import { lockOrganisation } from './locks'
import { newId } from './new-id'
import { RECORD_COLUMNS, type RecordKind } from './record-tables'
import { SeenHashes } from './seen-hashes'

const ID_COLUMN = columnsOf<{ id: string }>({ id: 'uuid' })
const CONTENT_HASH = columnsOf<{ contentHash: string }>({ contentHash: 'hex' })

/** What the database tells of a chunk of rows. */
type Told = { units: string[]; accepted: number; superseded: number }

/** What became of rows of one kind, and the vehicles whose records are other than before. */
export type RowsAdded = { counts: EntryCounts; touched: string[] }

/**
 * Adds the rows of one kind in their order. What is there already, column for column or under a correction that stands
 * for it, is left; one whose `ref` is there with other contents takes the place of that one; the rest is new.
 *
 * @param seen the rows of this kind that came before in the same piece of work
 */
export async function addRecordRows<Kind extends RecordKind>(
  scope: OrganisationScope,
  kind: Kind,
  given: Records[Kind],
  entry: Entry,
  seen = new SeenHashes(),
): Promise<RowsAdded> {
  const rows = distinct<Records[Kind][number]>(given, seen)
  if (rows.some(({ ref }) => ref !== null)) await lockOrganisation(scope, 'records')
  const columns = [...ID_COLUMN, ...CONTENT_HASH, ...RECORD_COLUMNS[kind]]
  const [at, by, intake] = [entry.now.toISOString(), entry.by, entry.intake ?? null]
  const counts = { accepted: 0, unchanged: 0, superseded: 0 }
  const touched = new Set<string>()
  await inChunks(rows, async (chunk) => {
    const full = chunk.map((row) => ({ ...row, id: newId(entry.now) }))
    const units = arrayText(full.map(({ unit }) => unit))
    const sql = addingSql(
      kind,
      columns,
      full.some(({ ref }) => ref !== null),
    )
    const parameters = [scope.organisation, units, at, by, intake, ...columnArrays(columns, full)]
    const [told] = await scope.tx.$queryRawUnsafe<Told[]>(sql, ...parameters)
    counts.accepted += told?.accepted ?? 0
    counts.superseded += told?.superseded ?? 0
    for (const unit of told?.units ?? []) touched.add(unit)
  })
  counts.unchanged = given.length - counts.accepted - counts.superseded
  return { counts, touched: [...touched] }
}

/**
 * What adding rows without a `ref` would do, where nothing else is added before them; nothing is asked or written.
 *
 * @param there the hashes of what is there (`readHashesThere`), and of the rows that came before
 */
export function countRecordRows(
  given: readonly { unit: string; ref: string | null }[],
  there: SeenHashes,
): RowsAdded {
  const rows = distinct(given, there)
  if (rows.some(({ ref }) => ref !== null)) throw new Error('A row with a ref may take the place of another')
  const counts = { accepted: rows.length, unchanged: given.length - rows.length, superseded: 0 }
  return { counts, touched: [...new Set(rows.map(({ unit }) => unit))] }
}

const HASHES_AT_ONCE = 50_000

/** The hashes under which a row counts as there: of every live row, and of what its correction stands for. */
export async function readHashesThere({ tx }: OrganisationScope, kind: RecordKind): Promise<SeenHashes> {
  const there = new SeenHashes()
  let after = 0n
  for (;;) {
    // In the order of an index of live rows, so that the whole is read once, however many there are.
    const rows = await tx.$queryRawUnsafe<{ sequence: bigint; hashes: string[] }[]>(
      `select sequence, array_remove(array[encode(content_hash, 'hex'), encode(corrects_hash, 'hex')], null) as hashes
       from ${kind} live where sequence > $1 and ${IS_LIVE('live')} order by sequence limit ${HASHES_AT_ONCE}`,
      after,
    )
    for (const { hashes } of rows) for (const hash of hashes) there.add(hash)
    const last = rows.at(-1)
    if (!last || rows.length < HASHES_AT_ONCE) return there
    after = last.sequence
  }
}

/** Of rows with the same `ref` the last, in the place of the first; of equal rows one, and none that came before. */
function distinct<Row extends { unit: string; ref: string | null }>(
  given: readonly Row[],
  seen: SeenHashes,
): (Row & { contentHash: string })[] {
  const rows = new Map<string, Row & { contentHash: string }>()
  for (const each of given) {
    const row = { ...each, contentHash: contentHash(each) }
    if (row.ref !== null) rows.set(`ref ${row.ref}`, row)
    else if (seen.add(row.contentHash)) rows.set(row.contentHash, row)
  }
  return [...rows.values()]
}

const IS_LIVE = (row: string) => `${row}.superseded_at is null and ${row}.withdrawn_at is null`

/**
 * One statement for a chunk: $1 the organisation, $2 the units, $3 to $5 when, by whom and with which files they are
 * entered, then an array a column.
 *
 * @param withRefs whether a row has a `ref`, so that it may take another's place
 */
function addingSql(kind: RecordKind, columns: Column[], withRefs: boolean): string {
  const { names, types, aliases } = sqlParts(columns, 6)
  const typed = columns.map(({ name, write }, i) => `${write(`each.c${i}`)} as "${name}"`).join(', ')
  const replaced = withRefs
    ? `update ${kind} earlier set superseded_by = fresh.id, superseded_at = $3::timestamptz from fresh
      where earlier.ref = fresh.ref and earlier.content_hash <> fresh.content_hash and ${IS_LIVE('earlier')}
      returning fresh.id as by, earlier.id, earlier.sequence, earlier.vehicle_id`
    : `select null::uuid as by, null::uuid as id, null::bigint as sequence, null::uuid as vehicle_id where false`
  return `
    with given as (
      select vehicle.id as vehicle_id, place, ${typed}
      from unnest($2::text[], ${types}) with ordinality as each(unit, ${aliases}, place)
      join vehicles vehicle on vehicle.unit = each.unit and vehicle.withdrawn_at is null
    ), fresh as (
      select * from given where not exists (
        select from ${kind} correction
        where correction.corrects_hash = given.content_hash and ${IS_LIVE('correction')})
    ), replaced as (${replaced}), added as (
      insert into ${kind} (organisation_id, vehicle_id, entered_at, entered_by, intake_id, ${names}, supersedes_id, sequence)
      select $1::uuid, fresh.vehicle_id, $3::timestamptz, $4::uuid, $5::uuid, ${columns.map(({ name }) => `fresh."${name}"`).join(', ')}, replaced.id,
        coalesce(replaced.sequence, nextval('${kind}_sequence_seq'))
      from fresh left join replaced on replaced.by = fresh.id order by fresh.place
      on conflict (organisation_id, content_hash) where superseded_at is null and withdrawn_at is null do nothing
      returning vehicle_id, supersedes_id
    )
    select (count(*) filter (where supersedes_id is null))::int as accepted, count(supersedes_id)::int as superseded,
      array(select unit from vehicles
        where id in (select vehicle_id from added union all select vehicle_id from replaced)) as units
    from added`
}
