import type { Library } from '@/lib/records/library'
import { placeOf } from '@/lib/records/place-of'

export type Place = ReturnType<typeof placeOf>

/** How a component is named: by the library, or by its key where the library has dropped it. */
export function nameComponent(
  weakPoint: string,
  family: string,
  library: Library,
): { name: string; place: Place } {
  const engine = library.families.find(({ key }) => key === family)
  const known = engine?.weakPoints.find(({ key }) => key === weakPoint)
  if (!engine || !known) return { name: weakPoint, place: null }
  return { name: known.component, place: placeOf(known.positions, engine.cylinders) }
}
