import type { OrganisationScope } from '../with-organisation'

/** A view of the watchlist under a name; everybody in the organisation has it. */
export type SavedView = { id: string; name: string; address: string }

/** The organisation's saved views, by name. */
export function readSavedViews({ tx }: OrganisationScope): Promise<SavedView[]> {
  return tx.$queryRaw<SavedView[]>`
    select id::text, name, address from saved_views where removed_at is null
    order by lower(name) collate "C", id`
}

/** The view that was removed last, if it can still come back: nobody has taken its name since. */
export async function readRemovedView({ tx }: OrganisationScope, id: string): Promise<SavedView | null> {
  const [found] = await tx.$queryRaw<SavedView[]>`
    select id::text, name, address from saved_views removed where id = ${id}::uuid and removed_at is not null
      and not exists (select from saved_views standing
        where lower(standing.name) = lower(removed.name) and standing.removed_at is null)`
  return found ?? null
}
