import type { OrganisationScope } from '../with-organisation'

/** A family that is still being stated: what a library file says of one, as far as it has come. */
export type LibraryDraft = { id: string; family: unknown; madeAt: Date; changedAt: Date }

/** What is being stated, the latest first. */
export function readLibraryDrafts({ tx }: OrganisationScope): Promise<LibraryDraft[]> {
  return tx.$queryRaw<LibraryDraft[]>`
    select id::text, family, made_at as "madeAt", changed_at as "changedAt" from library_drafts
    order by changed_at desc`
}

/** One of them; null where there is none of that id. */
export async function readLibraryDraft({ tx }: OrganisationScope, id: string): Promise<LibraryDraft | null> {
  const [found] = await tx.$queryRaw<LibraryDraft[]>`
    select id::text, family, made_at as "madeAt", changed_at as "changedAt" from library_drafts
    where id::text = ${id} for update`
  return found ?? null
}
