import { RECORD_COLUMNS, type RecordKind } from '../inner/record-tables'
import type { OrganisationScope } from '../with-organisation'

/** When a row was entered, and the name of the person or token that did; null where nobody signed in did. */
export type Provenance = { enteredAt: Date; enteredBy: string | null }

/** Of every vehicle and live record, each kind in the order in which `readRecords` has its rows. */
export async function readProvenance({
  tx,
}: OrganisationScope): Promise<Record<'vehicles' | RecordKind, Provenance[]>> {
  const live = 'and record.superseded_at is null and record.withdrawn_at is null'
  const ofKind = (kind: 'vehicles' | RecordKind) =>
    tx.$queryRawUnsafe<Provenance[]>(
      `select record.entered_at as "enteredAt", coalesce(person.name, token.name) as "enteredBy"
       from ${kind} record
         join vehicles vehicle on vehicle.id = record.${kind === 'vehicles' ? 'id' : 'vehicle_id'}
         left join people person on person.id = record.entered_by
         left join tokens token on token.id = record.entered_by
       where vehicle.withdrawn_at is null ${kind === 'vehicles' ? '' : live}
       order by record.sequence`,
    )
  const found: Partial<Record<'vehicles' | RecordKind, Provenance[]>> = { vehicles: await ofKind('vehicles') }
  for (const kind of Object.keys(RECORD_COLUMNS) as RecordKind[]) found[kind] = await ofKind(kind)
  return found as Record<'vehicles' | RecordKind, Provenance[]>
}
