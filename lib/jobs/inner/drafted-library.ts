import { type FamilyDraft, libraryWith } from '@/lib/intake/family-draft'

/**
 * The library file that there would be with a draft in force: its family in the place of the one of the same key, or
 * beside the others.
 */
export function draftedLibrary(inForce: string, family: unknown): string {
  const draft = family as FamilyDraft
  const library: { families: { key: string }[] } = JSON.parse(inForce)
  if (!library.families.some(({ key }) => key === draft.key)) return libraryWith(inForce, '', draft)
  const families = library.families.map((each) => (each.key === draft.key ? draft : each))
  return JSON.stringify({ ...library, families })
}
