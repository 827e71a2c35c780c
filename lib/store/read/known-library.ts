import type { Library } from '@/lib/records/library'
import { parsedLibrary } from '@/lib/records/parsed-library'
import type { OrganisationScope } from '../with-organisation'
import { readLibraryInForce } from './library-in-force'

/** The library in force, read. */
export type KnownLibrary = { version: number; library: Library }

/**
 * The library that the organisation works with, as what it says; null before its first.
 *
 * @throws when it is not valid, which only a library that went round the product can be
 */
export async function readKnownLibrary(scope: OrganisationScope): Promise<KnownLibrary | null> {
  const stored = await readLibraryInForce(scope)
  if (stored === null) return null
  const parsed = parsedLibrary(stored.content)
  if (!parsed.ok) throw new Error(`The library in force is not valid: ${parsed.errors[0]?.message}`)
  return { version: stored.version, library: parsed.library }
}
