import type { OrganisationScope } from '../with-organisation'

/** A library as its author wrote it. */
export type StoredLibrary = { version: number; content: string }

/** The library that the organisation worked with at a moment; null before its first. */
export async function readLibraryAsOf({ tx }: OrganisationScope, at: Date): Promise<StoredLibrary | null> {
  const [found] = await tx.$queryRaw<StoredLibrary[]>`
    select version, content::text from libraries where entered_at <= ${at} order by version desc limit 1`
  return found ?? null
}

/** The texts of so many libraries are kept: those of the organisations at work. What an id stands for never changes. */
const MOST = 8
const kept = new Map<string, string>()

const ASKED = 'library in force'

/** The library that the organisation works with; null before its first. Whatever asks for it on one page asks once. */
export async function readLibraryInForce(scope: OrganisationScope): Promise<StoredLibrary | null> {
  const known = scope.asked?.get(ASKED) as Promise<StoredLibrary | null> | undefined
  const found = known ?? askForLibrary(scope)
  scope.asked?.set(ASKED, found)
  return found
}

/** After another has come into force. */
export const forgetLibrary = (scope: OrganisationScope): void => void scope.asked?.delete(ASKED)

async function askForLibrary({ tx }: OrganisationScope): Promise<StoredLibrary | null> {
  const known = new Map(kept)
  const [found] = await tx.$queryRaw<{ id: string; version: number; text: string | null }[]>`
    select id::text, version, case when id = any(${[...known.keys()]}::uuid[]) then null else content::text end as text
    from libraries where in_force`
  if (!found) return null
  const { id, version } = found
  const content = found.text ?? known.get(id) ?? ''
  kept.delete(id)
  kept.set(id, content)
  const [oldest] = kept.keys()
  if (kept.size > MOST && oldest !== undefined) kept.delete(oldest)
  return { version, content }
}
