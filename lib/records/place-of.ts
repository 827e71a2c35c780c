/** What a position of a weak point is: one a cylinder, one a bank, or one of several; null where there is but one. */
export type Place = 'cylinder' | 'bank' | 'position' | null

/** What the positions of a weak point are called on an engine with so many cylinders. */
export function placeOf(positions: number, cylinders: number): Place {
  if (positions === 1) return null
  if (positions === cylinders) return 'cylinder'
  return positions === 2 ? 'bank' : 'position'
}
