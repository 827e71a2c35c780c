import type { Records } from '@/lib/records/rows'
import { selection } from '../inner/columns'
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

/** Every version of every record of a vehicle, what no longer counts too; by kind, in the order of first arrival. */
export async function readVehicleRecords(scope: OrganisationScope, unit: string): Promise<VehicleRecord[]> {
  const records: VehicleRecord[] = []
  for (const kind of RECORD_KINDS) records.push(...((await readKind(scope, kind, unit)) as VehicleRecord[]))
  return records
}

type Found = Omit<Recorded, 'state'> & { standing: Recorded['state'] }

async function readKind<Kind extends RecordKind>({ tx }: OrganisationScope, kind: Kind, unit: string) {
  const found = await tx.$queryRawUnsafe<(Found & Records[Kind][number])[]>(
    `select vehicle.unit, ${selection(RECORD_COLUMNS[kind], 'record')}, record.id::text,
       case when record.superseded_at is not null then 'superseded' when record.withdrawn_at is not null then 'withdrawn'
         else 'live' end as standing,
       record.entered_at as "enteredAt", record.entered_by::text as "enteredBy", record.intake_id::text as "intakeId",
       coalesce(record.superseded_at, record.withdrawn_at) as "endedAt", record.withdrawn_by::text as "withdrawnBy",
       supersedes_id::text as "supersedesId", superseded_by::text as "supersededBy"
     from ${kind} record join vehicles vehicle on vehicle.id = record.vehicle_id
     where vehicle.unit = $1 order by record.sequence, record.entered_at, record.id`,
    unit,
  )
  return found.map(
    ({
      id,
      standing,
      enteredAt,
      enteredBy,
      intakeId,
      endedAt,
      withdrawnBy,
      supersedesId,
      supersededBy,
      ...row
    }) => ({
      ...{ kind, id, state: standing, enteredAt, enteredBy, intakeId, endedAt, withdrawnBy },
      ...{ supersedesId, supersededBy, row },
    }),
  )
}
