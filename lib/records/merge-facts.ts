import type { VehicleRow } from './rows'

/** Facts of a vehicle that are chosen together, because one without the other would be of neither vehicle. */
export const FACT_GROUPS = {
  engine: ['family', 'variant'],
  plate: ['plate'],
  vin: ['vin'],
  site: ['site'],
  status: ['status', 'leftOn', 'soldOn', 'coverUntilOn', 'coverUntilKm'],
  owner: ['customer', 'contact'],
  built: ['builtOn', 'inServiceOn'],
  watched: ['watchedFromOn', 'watchedFromKm', 'history'],
  duty: ['duty'],
  value: ['value'],
  bought: ['acquiredOn', 'acquiredFrom', 'purchasePrice'],
  prices: ['prepCost', 'askingPrice'],
} as const satisfies Record<string, readonly (keyof VehicleRow)[]>

export type FactGroup = keyof typeof FACT_GROUPS
export const GROUPS = Object.keys(FACT_GROUPS) as FactGroup[]

/** Groups in which two vehicles say different things, each with the side that is the better guess: the one that says something. */
export function differingFacts(
  own: VehicleRow,
  other: VehicleRow,
): { group: FactGroup; better: 'own' | 'other' }[] {
  return GROUPS.flatMap((group) => {
    const fields: readonly (keyof VehicleRow)[] = FACT_GROUPS[group]
    if (fields.every((field) => own[field] === other[field])) return []
    const better = fields.every((field) => own[field] === null) ? 'other' : 'own'
    return [{ group, better } as const]
  })
}

/** The facts that are taken from the other vehicle: those of the groups in which it was chosen. */
export function factsOf(other: VehicleRow, chosen: readonly FactGroup[]): Partial<VehicleRow> {
  const fields: (keyof VehicleRow)[] = chosen.flatMap((group) => [...FACT_GROUPS[group]])
  return Object.fromEntries(fields.map((field) => [field, other[field]]))
}
