import { parseFit } from '@/lib/intake/fit-file'
import type { Library } from '@/lib/records/library'
import type { FleetFit } from '@/lib/scoring/family-fit'
import type { StoredFit } from '@/lib/store/read/fit-in-force'

/** Of each library the last one that was asked for: what is reckoned of a fit is large. */
const kept = new WeakMap<Library, { id: string; fit: FleetFit | null }>()

/**
 * What was learned, read once, so that what is reckoned of it is reckoned once. After a change of library that it does not
 * fit, none is in force until the next.
 *
 * @param stored what its id stands for never changes
 */
export function knownFit(stored: StoredFit | null, library: Library): FleetFit | null {
  if (stored === null) return null
  const known = kept.get(library)
  if (known?.id === stored.id) return known.fit
  const parsed = parseFit(stored.content, library)
  const fit = parsed.ok ? parsed.value.fit : null
  kept.set(library, { id: stored.id, fit })
  return fit
}
