import type { OrganisationScope } from '../with-organisation'

/** A version of the library, without what it says. */
export type LibraryVersion = {
  version: number
  name: string
  inForce: boolean
  enteredAt: Date
  /** Whoever entered it, by name; null where nobody signed in did. */
  enteredBy: string | null
  note: string | null
}

/** Every version that the library ever had, the latest first. */
export function readLibraryVersions({ tx }: OrganisationScope): Promise<LibraryVersion[]> {
  return tx.$queryRaw<LibraryVersion[]>`
    select library.version, library.content->>'name' as name, library.in_force as "inForce",
      library.entered_at as "enteredAt", person.name as "enteredBy", library.note
    from libraries library left join people person on person.id = library.entered_by
    order by library.version desc`
}

/** One version of the library as its author wrote it; null where there is none of that number. */
export async function readLibraryVersion(
  { tx }: OrganisationScope,
  version: number,
): Promise<{ name: string; content: string } | null> {
  const [found] = await tx.$queryRaw<{ name: string; content: string }[]>`
    select content->>'name' as name, content::text from libraries where version = ${version}`
  return found ?? null
}
