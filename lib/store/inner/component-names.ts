import type { Library } from '@/lib/records/library'

/** What a position of a weak point is: one a cylinder, one a bank, or one of several; null where there is but one. */
export type Place = 'cylinder' | 'bank' | 'position' | null

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

function placeOf(positions: number, cylinders: number): Place {
  if (positions === 1) return null
  if (positions === cylinders) return 'cylinder'
  return positions === 2 ? 'bank' : 'position'
}
