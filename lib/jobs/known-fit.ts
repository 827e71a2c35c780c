import { parseFit } from '@/lib/intake/fit-file'
import type { Library } from '@/lib/records/library'
import type { FleetFit } from '@/lib/scoring/family-fit'
import type { StoredFit } from '@/lib/store/read/fit-in-force'
import { LastAsked } from './inner/last-asked'

/** Organisations at work that share a library. */
const MOST_KEPT = 4
const kept = new WeakMap<Library, LastAsked<{ fit: FleetFit | null }>>()

/**
 * What was learned, read once, so that what is reckoned of it is reckoned once. After a change of library that it does not
 * fit, none is in force until the next.
 *
 * @param stored what its id stands for never changes
 */
export function knownFit(stored: StoredFit | null, library: Library): FleetFit | null {
  if (stored === null) return null
  const ofLibrary = kept.get(library) ?? new LastAsked(MOST_KEPT)
  kept.set(library, ofLibrary)
  const known = ofLibrary.get(stored.id)
  if (known) return known.fit
  const parsed = parseFit(stored.content, library)
  return ofLibrary.keep(stored.id, { fit: parsed.ok ? parsed.value.fit : null }).fit
}
