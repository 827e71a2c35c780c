import type { Records } from '@/lib/records/rows'
import { selection } from '../inner/columns'
import { RECORD_COLUMNS, type RecordKind, VEHICLE_COLUMNS } from '../inner/record-tables'
import type { OrganisationScope } from '../with-organisation'

/**
 * The live records of the organisation, each list in the order of first arrival.
 *
 * @param units the vehicles; every one where it is left out
 */
export async function readRecords(scope: OrganisationScope, units: string[] | null = null): Promise<Records> {
  const [organisation] = await scope.tx.$queryRaw<Pick<Records, 'settings'>[]>`
    select settings from organisations where id = ${scope.organisation}::uuid`
  if (!organisation) throw new Error('There is no such organisation')
  return {
    vehicles: await scope.tx.$queryRawUnsafe<Records['vehicles']>(
      `select unit, ${selection(VEHICLE_COLUMNS, 'vehicle')} from vehicles vehicle
       where ${AMONG} order by vehicle.sequence`,
      units,
    ),
    readings: await readKind(scope, 'readings', units),
    codes: await readKind(scope, 'codes', units),
    checks: await readKind(scope, 'checks', units),
    repairs: await readKind(scope, 'repairs', units),
    changes: await readKind(scope, 'changes', units),
    settings: organisation.settings,
  }
}

const AMONG = 'vehicle.withdrawn_at is null and ($1::text[] is null or vehicle.unit = any($1::text[]))'

function readKind<Kind extends RecordKind>(
  { tx }: OrganisationScope,
  kind: Kind,
  units: string[] | null,
): Promise<Records[Kind]> {
  return tx.$queryRawUnsafe<Records[Kind]>(
    `select vehicle.unit, ${selection(RECORD_COLUMNS[kind], 'record')}
     from ${kind} record join vehicles vehicle on vehicle.id = record.vehicle_id
     where ${AMONG} and record.superseded_at is null and record.withdrawn_at is null
     order by record.sequence`,
    units,
  )
}
