import type { Records } from '@/lib/records/rows'
import type { Entry, EntryCounts } from '../entry'
import type { OrganisationScope } from '../with-organisation'
import { type Column, columnsOf } from './columns'
import { contentHash } from './content-hash'
import { ENTRY_COLUMNS, entryFields } from './entry-columns'
import { columnArrays, inChunks, sqlParts } from './insert-rows'
import { lockOrganisation } from './locks'
import { newId } from './new-id'
import { RECORD_COLUMNS, type RecordKind } from './record-tables'

const CONTENT_HASH = columnsOf<{ contentHash: string }>({ contentHash: 'hex' })

type Added = { units: string[]; accepted: number; superseded: number }

/**
 * Adds the rows of one kind in their order. What is there already, column for column or under a correction that stands
 * for it, is left; one whose `ref` is there with other contents takes the place of that one; the rest is new.
 *
 * @returns how many of each, and the vehicles whose records are other than before
 */
export async function addRecordRows<Kind extends RecordKind>(
  scope: OrganisationScope,
  kind: Kind,
  given: Records[Kind],
  entry: Entry,
): Promise<{ counts: EntryCounts; touched: string[] }> {
  const rows = distinct<Records[Kind][number]>(given)
  if (rows.some(({ ref }) => ref !== null)) await lockOrganisation(scope, 'records')
  const columns = [...ENTRY_COLUMNS, ...CONTENT_HASH, ...RECORD_COLUMNS[kind]]
  const sql = addingSql(kind, columns)
  const counts = { accepted: 0, unchanged: 0, superseded: 0 }
  const touched = new Set<string>()
  await inChunks(rows, async (chunk) => {
    const full = chunk.map((row) => ({ ...row, ...entryFields(entry), id: newId(entry.now) }))
    const units = full.map(({ unit }) => unit)
    const parameters = [scope.organisation, units, ...columnArrays(columns, full)]
    const [added] = await scope.tx.$queryRawUnsafe<Added[]>(sql, ...parameters)
    counts.accepted += added?.accepted ?? 0
    counts.superseded += added?.superseded ?? 0
    for (const unit of added?.units ?? []) touched.add(unit)
  })
  counts.unchanged = given.length - counts.accepted - counts.superseded
  return { counts, touched: [...touched] }
}

/** Of rows with the same `ref` the last, of equal rows one; in the place of the first. */
function distinct<Row extends { unit: string; ref: string | null }>(given: readonly Row[]) {
  const rows = new Map<string, Row & { contentHash: string }>()
  for (const each of given) {
    const row = { ...each, contentHash: contentHash(each) }
    rows.set(row.ref === null ? row.contentHash : `ref ${row.ref}`, row)
  }
  return [...rows.values()]
}

/** One statement for a chunk: $1 the organisation, $2 the units, then an array a column. */
function addingSql(kind: RecordKind, columns: Column[]): string {
  const { names, types, aliases } = sqlParts(columns, 3)
  const typed = columns.map(({ name, write }, i) => `${write(`each.c${i}`)} as "${name}"`).join(', ')
  return `
    with given as (
      select vehicle.id as vehicle_id, place, ${typed}
      from unnest($2::text[], ${types}) with ordinality as each(unit, ${aliases}, place)
      join vehicles vehicle on vehicle.unit = each.unit and vehicle.withdrawn_at is null
    ), fresh as (
      select * from given where not exists (
        select from ${kind} correction where correction.corrects_hash = given.content_hash
          and correction.superseded_at is null and correction.withdrawn_at is null)
    ), replaced as (
      update ${kind} earlier set superseded_by = fresh.id, superseded_at = fresh.entered_at from fresh
      where earlier.ref = fresh.ref and earlier.content_hash <> fresh.content_hash
        and earlier.superseded_at is null and earlier.withdrawn_at is null
      returning fresh.id as by, earlier.id, earlier.sequence, earlier.vehicle_id
    ), added as (
      insert into ${kind} (organisation_id, vehicle_id, ${names}, supersedes_id, sequence)
      select $1::uuid, fresh.vehicle_id, ${columns.map(({ name }) => `fresh."${name}"`).join(', ')}, replaced.id,
        coalesce(replaced.sequence, nextval(pg_get_serial_sequence('${kind}', 'sequence')))
      from fresh left join replaced on replaced.by = fresh.id order by fresh.place
      on conflict (organisation_id, content_hash) where superseded_at is null and withdrawn_at is null do nothing
      returning vehicle_id, supersedes_id
    )
    select (count(*) filter (where supersedes_id is null))::int as accepted, count(supersedes_id)::int as superseded,
      array(select unit from vehicles
        where id in (select vehicle_id from added union all select vehicle_id from replaced)) as units
    from added`
}
