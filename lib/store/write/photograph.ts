import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

/** A photograph that was taken beside a vehicle: a JPEG that `photographIn` has read. */
export type NewPhotograph = {
  unit: string
  content: Uint8Array<ArrayBuffer>
  width: number
  height: number
  note: string
  /** By the clock of the phone. */
  takenAt: Date
}

type By = { now: Date; by: string | null }

/** @returns its id; null where there is no such vehicle */
export async function addPhotograph(
  { tx, organisation }: OrganisationScope,
  { unit, content, width, height, note, takenAt }: NewPhotograph,
  { now, by }: By,
): Promise<string | null> {
  const id = newId(now)
  const added = await tx.$executeRaw`
    insert into photographs (organisation_id, id, vehicle_id, content, width, height, note, taken_at, entered_at, entered_by)
    select ${organisation}::uuid, ${id}::uuid, id, ${content}, ${width}, ${height}, ${note}, ${takenAt}, ${now}, ${by}::uuid
    from vehicles where unit = ${unit} and withdrawn_at is null`
  return added === 0 ? null : id
}

/** Takes a photograph out of sight. It is kept, and `restorePhotograph` brings it back. */
export async function withdrawPhotograph(
  { tx }: OrganisationScope,
  id: string,
  { now, by }: By,
): Promise<void> {
  await tx.$executeRaw`
    update photographs set withdrawn_at = ${now}, withdrawn_by = ${by}::uuid
    where id = ${id}::uuid and withdrawn_at is null`
}

export async function restorePhotograph({ tx }: OrganisationScope, id: string): Promise<void> {
  await tx.$executeRaw`update photographs set withdrawn_at = null, withdrawn_by = null where id = ${id}::uuid`
}
