import type { OrganisationScope } from '../with-organisation'

/** A library as its author wrote it. */
export type StoredLibrary = { version: number; content: string }

/** The library that the organisation worked with at a moment; null before its first. */
export async function readLibraryAsOf({ tx }: OrganisationScope, at: Date): Promise<StoredLibrary | null> {
  const [found] = await tx.$queryRaw<StoredLibrary[]>`
    select version, content::text from libraries where entered_at <= ${at} order by version desc limit 1`
  return found ?? null
}

/** The library that the organisation works with; null before its first. */
export async function readLibraryInForce({ tx }: OrganisationScope): Promise<StoredLibrary | null> {
  const [found] = await tx.$queryRaw<StoredLibrary[]>`
    select version, content::text from libraries where in_force`
  return found ?? null
}
