import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

type By = { now: Date; by: string | null }

/**
 * Gives every one of these vehicles that has no label that works a new one.
 *
 * @param newSecret makes the secret of one label
 */
export async function makeLabels(
  { tx, organisation }: OrganisationScope,
  units: readonly string[],
  { now, by, newSecret }: By & { newSecret: () => Uint8Array },
): Promise<void> {
  const without = await tx.$queryRaw<{ id: string }[]>`
    select id::text from vehicles vehicle where unit = any(${units}::text[]) and withdrawn_at is null
      and not exists (select from vehicle_labels label where label.vehicle_id = vehicle.id and ended_at is null)`
  await tx.$executeRaw`
    insert into vehicle_labels (organisation_id, id, vehicle_id, secret, made_at, made_by)
    select ${organisation}::uuid, given.id, given.vehicle_id, given.secret, ${now}, ${by}::uuid
    from unnest(${without.map(() => newId(now))}::uuid[], ${without.map(({ id }) => id)}::uuid[],
      ${without.map(() => newSecret())}::bytea[]) as given(id, vehicle_id, secret)
    on conflict (organisation_id, vehicle_id) where ended_at is null do nothing`
}

/** Ends the labels of these vehicles: what is printed of them opens nothing any more. */
export async function endLabels(
  { tx }: OrganisationScope,
  units: readonly string[],
  { now, by }: By,
): Promise<void> {
  await tx.$executeRaw`
    update vehicle_labels label set ended_at = ${now}, ended_by = ${by}::uuid
    from vehicles vehicle where vehicle.id = label.vehicle_id and vehicle.unit = any(${units}::text[])
      and label.ended_at is null`
}
