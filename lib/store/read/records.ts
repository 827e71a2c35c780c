import type { Records } from '@/lib/records/rows'
import { jsonObject } from '../inner/columns'
import { RECORD_COLUMNS, RECORD_KINDS, type RecordKind, VEHICLE_COLUMNS } from '../inner/record-tables'
import type { OrganisationScope } from '../with-organisation'

type RowKind = RecordKind | 'vehicles'
type Found = {
  [Kind in keyof Records]: { kind: Kind; row: Kind extends RowKind ? Records[Kind][number] : Records[Kind] }
}

/**
 * The live records of the organisation, each list in the order of first arrival.
 *
 * @param units the vehicles; every one where it is left out
 */
export async function readRecords(scope: OrganisationScope, units: string[] | null = null): Promise<Records> {
  const found = await scope.tx.$queryRawUnsafe<Found[keyof Records][]>(SQL, units, scope.organisation)
  const [settings] = found.flatMap(({ kind, row }) => (kind === 'settings' ? [row] : []))
  if (!settings) throw new Error('There is no such organisation')
  const records: Records = {
    vehicles: [],
    readings: [],
    codes: [],
    checks: [],
    repairs: [],
    changes: [],
    settings,
  }
  for (const each of found) if (each.kind !== 'settings') put(records, each)
  return records
}

function put<Kind extends RowKind>(records: Pick<Records, Kind>, { kind, row }: Found[Kind]): void {
  const rows: unknown[] = records[kind]
  rows.push(row)
}

const AMONG = 'vehicle.withdrawn_at is null and ($1::text[] is null or vehicle.unit = any($1::text[]))'

const ofKind = (kind: RecordKind) => `
  select '${kind}' as kind, record.sequence, ${jsonObject(RECORD_COLUMNS[kind], 'record')} as row
  from ${kind} record join vehicles vehicle on vehicle.id = record.vehicle_id
  where ${AMONG} and record.superseded_at is null and record.withdrawn_at is null`

/** One statement, for every one of them costs its way to the server and back. */
const SQL = `
  select kind, row from (
    select 'settings' as kind, 0::bigint as sequence, settings::json as row from organisations where id = $2::uuid
    union all
    select 'vehicles', vehicle.sequence, ${jsonObject(VEHICLE_COLUMNS, 'vehicle')} from vehicles vehicle where ${AMONG}
    union all ${RECORD_KINDS.map(ofKind).join(' union all ')}) as found
  order by kind, sequence`
