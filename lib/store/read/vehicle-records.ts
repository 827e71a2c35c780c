import type { Records, VehicleRow } from '@/lib/records/rows'
import { groupByVehicle, type VehicleRecords } from '@/lib/records/vehicle-records'
import { jsonObject } from '../inner/columns'
import { RECORD_COLUMNS, RECORD_KINDS, type RecordKind } from '../inner/record-tables'
import type { OrganisationScope } from '../with-organisation'

/** One version of a record: who entered it when, and whether it counts. */
export type Recorded = {
  id: string
  state: 'live' | 'superseded' | 'withdrawn'
  enteredAt: Date
  /** A person; null where no person did it. */
  enteredBy: string | null
  intakeId: string | null
  /** When it stopped to count; null for a live one. */
  endedAt: Date | null
  withdrawnBy: string | null
  /** The version in whose place it came. */
  supersedesId: string | null
  /** The version that came in its place. */
  supersededBy: string | null
}

/** A version with its contents. */
export type VehicleRecord = {
  [Kind in RecordKind]: Recorded & { kind: Kind; row: Records[Kind][number] }
}[RecordKind]

type Found = Omit<Recorded, 'state'> & { standing: Recorded['state']; kind: RecordKind; row: never }

/** Every version of every record of a vehicle, what no longer counts too; by kind, in the order of first arrival. */
export async function readVehicleRecords(scope: OrganisationScope, unit: string): Promise<VehicleRecord[]> {
  const found = await scope.tx.$queryRawUnsafe<Found[]>(SQL, unit)
  return found.map(({ standing, ...record }) => ({ ...record, state: standing }))
}

const ofKind = (kind: RecordKind, place: number) => `
  select ${place} as place, '${kind}' as kind, record.sequence, record.id,
    case when record.superseded_at is not null then 'superseded' when record.withdrawn_at is not null then 'withdrawn'
      else 'live' end as standing,
    record.entered_at, record.entered_by, record.intake_id,
    coalesce(record.superseded_at, record.withdrawn_at) as ended_at, record.withdrawn_by, record.supersedes_id,
    record.superseded_by, ${jsonObject(RECORD_COLUMNS[kind], 'record')} as row
  from ${kind} record join vehicles vehicle on vehicle.id = record.vehicle_id where vehicle.unit = $1`

/** One statement, for every one of them costs its way to the server and back. */
const SQL = `
  select kind, id::text, standing, entered_at as "enteredAt", entered_by::text as "enteredBy",
    intake_id::text as "intakeId", ended_at as "endedAt", withdrawn_by::text as "withdrawnBy",
    supersedes_id::text as "supersedesId", superseded_by::text as "supersededBy", row
  from (${RECORD_KINDS.map(ofKind).join(' union all ')}) as found
  order by place, sequence, entered_at, found.id`

/** A vehicle's records that count, of all their versions. */
export function liveRecordsOf(vehicle: VehicleRow, versions: readonly VehicleRecord[]): VehicleRecords {
  const live = <Kind extends RecordKind>(kind: Kind) =>
    versions.flatMap((each) =>
      each.kind === kind && each.state === 'live' ? [each.row] : [],
    ) as Records[Kind]
  return groupByVehicle({
    vehicles: [vehicle],
    ...{ readings: live('readings'), codes: live('codes'), checks: live('checks') },
    ...{ repairs: live('repairs'), changes: live('changes') },
  })[0]!
}
