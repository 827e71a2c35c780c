import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

/** Whether it was done, or another view has that name. */
export type NameTaken = { ok: true } | { ok: false; reason: 'name-taken' }

const answer = (rows: number): NameTaken => (rows === 1 ? { ok: true } : { ok: false, reason: 'name-taken' })

/** Gives an address of the watchlist a name. */
export async function saveView(
  { tx, organisation }: OrganisationScope,
  { name, address, by, now }: { name: string; address: string; by: string; now: Date },
): Promise<NameTaken> {
  return answer(
    await tx.$executeRaw`
      insert into saved_views (organisation_id, id, name, address, made_by, made_at)
      values (${organisation}::uuid, ${newId(now)}::uuid, ${name}, ${address}, ${by}::uuid, ${now})
      on conflict do nothing`,
  )
}

/** Gives a view another name; one that is gone keeps it. */
export async function renameView(
  { tx }: OrganisationScope,
  { id, name }: { id: string; name: string },
): Promise<NameTaken> {
  return answer(
    await tx.$executeRaw`
      update saved_views set name = ${name} where id = ${id}::uuid and removed_at is null
        and not exists (select from saved_views other
          where other.id <> ${id}::uuid and lower(other.name) = lower(${name}) and other.removed_at is null)`,
  )
}

/** Takes a view away; `bringViewBack` undoes it. */
export async function removeView(
  { tx }: OrganisationScope,
  { id, now }: { id: string; now: Date },
): Promise<void> {
  await tx.$executeRaw`update saved_views set removed_at = ${now} where id = ${id}::uuid and removed_at is null`
}

/** Brings back a view that was taken away, unless another has its name now. */
export async function bringViewBack({ tx }: OrganisationScope, id: string): Promise<NameTaken> {
  return answer(
    await tx.$executeRaw`
      update saved_views removed set removed_at = null where id = ${id}::uuid and removed_at is not null
        and not exists (select from saved_views standing
          where lower(standing.name) = lower(removed.name) and standing.removed_at is null)`,
  )
}
