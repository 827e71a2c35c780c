import type { FamilyEntry } from './shape'

type Terms = {
  name: string
  currency: string
  /** Prices of parts and of damage, against those that the families are stated in. */
  priceLevel: number
  labourRate: number
  dayOffRoad: number
  visit: number
}

/** What one organisation believes about its engines, at its own prices, in the form of a library file. */
export function makeLibrary({ priceLevel, ...terms }: Terms, families: readonly FamilyEntry[]) {
  return {
    format: 'gudgeon-library/1',
    ...terms,
    slotDays: 14,
    zones: ['front', 'inlet side', 'top', 'exhaust side', 'below', 'cab'],
    looks: { scan: { hours: 0.3 }, visual: { hours: 0.2 }, road: { hours: 0.4 }, measure: { hours: 0.8 } },
    families: families.map((family) => priced(family, priceLevel)),
  }
}

export type DemoLibrary = ReturnType<typeof makeLibrary>

function priced(family: FamilyEntry, level: number): FamilyEntry {
  const weakPoints = family.weakPoints.map((weakPoint) => {
    const { parts, failureExtra, ...rest } = weakPoint.cost
    const cost = { parts: Math.round(parts * level), ...rest, failureExtra: Math.round(failureExtra * level) }
    return { ...weakPoint, cost }
  })
  return { ...family, weakPoints }
}
