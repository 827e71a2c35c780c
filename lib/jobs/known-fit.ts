import { parseFit } from '@/lib/intake/fit-file'
import type { Library } from '@/lib/records/library'
import type { FleetFit } from '@/lib/scoring/family-fit'
import type { StoredFit } from '@/lib/store/read/fit-in-force'

/** What was learned. After a change of library that it does not fit, none is in force until the next. */
export function knownFit(stored: StoredFit | null, library: Library): FleetFit | null {
  const read = stored && parseFit(stored.content, library)
  return read?.ok ? read.value.fit : null
}
