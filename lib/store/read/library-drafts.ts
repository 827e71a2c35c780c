import type { OrganisationScope } from '../with-organisation'

/** A family that is still being stated: what a library file says of one, as far as it has come. */
export type LibraryDraft = { id: string; family: unknown; madeAt: Date; changedAt: Date }

/** What is being stated, the latest first. */
export function readLibraryDrafts({ tx }: OrganisationScope): Promise<LibraryDraft[]> {
  return tx.$queryRaw<LibraryDraft[]>`
    select id::text, family, made_at as "madeAt", changed_at as "changedAt" from library_drafts
    order by changed_at desc`
}

/** One of them, held until the transaction ends; null where there is none of that id. */
export const readLibraryDraft = (scope: OrganisationScope, id: string): Promise<LibraryDraft | null> =>
  readOne(scope, id, 'for update')

/** The same as it is, though others may change it meanwhile: nobody waits for whoever takes long over it. */
export const readLibraryDraftUnheld = (scope: OrganisationScope, id: string): Promise<LibraryDraft | null> =>
  readOne(scope, id, '')

async function readOne(
  { tx }: OrganisationScope,
  id: string,
  lock: '' | 'for update',
): Promise<LibraryDraft | null> {
  const [found] = await tx.$queryRawUnsafe<LibraryDraft[]>(
    `select id::text, family, made_at as "madeAt", changed_at as "changedAt" from library_drafts
     where id::text = $1 ${lock}`,
    id,
  )
  return found ?? null
}
