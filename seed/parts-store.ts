import type { Line } from './csv'
import type { FamilyEntry } from './library/shape'
import { makeRandom } from './random'

/** Where the organisations of the demo buy, and how many days that takes at least and at most. */
const SUPPLIERS = [
  { name: 'Fellside Parts', days: [2, 9] },
  { name: 'Sallow Lane Supply', days: [6, 24] },
] as const

/**
 * What is in the parts store: of the cheap ones several, of the dear ones seldom any; something is on its way, and of a
 * few nobody has counted lately, so that they are left out.
 */
export function partsInStore(key: string, { families }: { families: readonly FamilyEntry[] }): Line[] {
  const prices = new Map(
    families.flatMap(({ weakPoints }) => weakPoints.map(({ part, cost }) => [part, cost.parts])),
  )
  return [...prices].flatMap(([part, price]): Line[] => {
    const random = makeRandom(`${key}/parts/${part}`)
    if (random.chance(0.12)) return []
    const supplier = random.pick(SUPPLIERS)
    const [atLeast, atMost] = supplier.days
    const onHand = random.whole(0, price < 40 ? 9 : price < 200 ? 3 : 1)
    const onOrder = random.chance(0.25) ? random.whole(1, price < 40 ? 8 : 2) : 0
    const dueIn = random.whole(2, 30)
    return [
      {
        ...{ part, on_hand: onHand, on_order: onOrder, due_on: onOrder > 0 ? dueIn : null },
        lead_days: random.whole(atLeast, atMost),
        price: Math.round(price * random.between(0.9, 1.15)),
        supplier: supplier.name,
      },
    ]
  })
}
