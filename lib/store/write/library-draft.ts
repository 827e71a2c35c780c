import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'
import { stopReplay } from './ask-replay'

/** Keeps a family that somebody begins to state. @returns its id */
export async function beginLibraryDraft(
  { tx, organisation }: OrganisationScope,
  { family, now, by }: { family: object; now: Date; by: string },
): Promise<string> {
  const id = newId(now)
  await tx.$executeRaw`
    insert into library_drafts (organisation_id, id, family, made_by, made_at, changed_at)
    values (${organisation}::uuid, ${id}::uuid, ${JSON.stringify(family)}::json, ${by}::uuid, ${now}, ${now})`
  return id
}

/** Keeps what a draft has come to. */
export async function keepLibraryDraft(
  { tx }: OrganisationScope,
  { id, family, now }: { id: string; family: object; now: Date },
): Promise<void> {
  await tx.$executeRaw`
    update library_drafts set family = ${JSON.stringify(family)}::json, changed_at = ${now} where id::text = ${id}`
}

/** Takes a draft away: it is in force, or nobody wants it any more. A trial of it that is under way ends. */
export async function dropLibraryDraft(
  scope: OrganisationScope,
  { id, now }: { id: string; now: Date },
): Promise<void> {
  await scope.tx.$executeRaw`delete from library_drafts where id::text = ${id}`
  await stopReplay(scope, { id, now })
}
