import type { Records } from '@/lib/records/rows'
import { selection } from '../inner/columns'
import { RECORD_COLUMNS, type RecordKind, VEHICLE_COLUMNS } from '../inner/record-tables'
import type { OrganisationScope } from '../with-organisation'

/** Every live record of the organisation, each list in the order of first arrival. */
export async function readRecords(scope: OrganisationScope): Promise<Records> {
  const [organisation] = await scope.tx.$queryRaw<Pick<Records, 'settings'>[]>`
    select settings from organisations where id = ${scope.organisation}::uuid`
  if (!organisation) throw new Error('There is no such organisation')
  return {
    vehicles: await scope.tx.$queryRawUnsafe<Records['vehicles']>(
      `select unit, ${selection(VEHICLE_COLUMNS, 'vehicles')} from vehicles order by sequence`,
    ),
    readings: await readKind(scope, 'readings'),
    codes: await readKind(scope, 'codes'),
    checks: await readKind(scope, 'checks'),
    repairs: await readKind(scope, 'repairs'),
    changes: await readKind(scope, 'changes'),
    settings: organisation.settings,
  }
}

function readKind<Kind extends RecordKind>({ tx }: OrganisationScope, kind: Kind): Promise<Records[Kind]> {
  return tx.$queryRawUnsafe<Records[Kind]>(
    `select vehicle.unit, ${selection(RECORD_COLUMNS[kind], 'record')}
     from ${kind} record join vehicles vehicle on vehicle.id = record.vehicle_id
     where record.superseded_at is null and record.withdrawn_at is null
     order by record.sequence`,
  )
}
