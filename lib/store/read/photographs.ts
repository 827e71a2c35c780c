import type { OrganisationScope } from '../with-organisation'

/** A photograph of a vehicle, without its bytes. */
export type VehiclePhotograph = {
  id: string
  width: number
  height: number
  note: string
  takenAt: Date
  enteredByName: string | null
  /** Null for one in sight. */
  withdrawnAt: Date | null
}

/** What was photographed of a vehicle, the latest first; of what was made one with it, too. */
export function readPhotographs({ tx }: OrganisationScope, unit: string): Promise<VehiclePhotograph[]> {
  return tx.$queryRaw<VehiclePhotograph[]>`
    with own as (select id from vehicles where unit = ${unit} and withdrawn_at is null),
    all_of_it as (
      select id from own
      union
      select other.id from own
        join vehicle_versions version on version.vehicle_id = own.id and version.intake_id is null
        join vehicles other on other.withdrawn_at = version.replaced_at and other.id <> own.id)
    select photograph.id::text, width, height, note, taken_at as "takenAt", person.name as "enteredByName",
      photograph.withdrawn_at as "withdrawnAt"
    from photographs photograph left join people person on person.id = photograph.entered_by
    where photograph.vehicle_id in (select id from all_of_it)
    order by taken_at desc, photograph.id desc`
}

/** The bytes of a photograph, a JPEG; null for none, and for one that was withdrawn. */
export async function readPhotograph(
  { tx }: OrganisationScope,
  id: string,
): Promise<Uint8Array<ArrayBuffer> | null> {
  const [found] = await tx.$queryRaw<{ content: Uint8Array<ArrayBuffer> }[]>`
    select content from photographs where id = ${id}::uuid and withdrawn_at is null`
  return found?.content ?? null
}
