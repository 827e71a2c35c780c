import { type FamilyDraft, libraryWith } from '@/lib/intake/family-draft'

/** The library file that there would be with a draft in force. */
export const draftedLibrary = (inForce: string, family: unknown): string =>
  libraryWith(inForce, '', family as FamilyDraft)
