import { atPlaceIn } from './at-address'

type Findable = { unit: string; plate: string | null }

/** Numbers are compared without what people put between their figures. */
const plain = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '')

/** The vehicles whose number or plate is, begins with or holds what was typed; in this order. */
export function vehiclesLike<V extends Findable>(vehicles: readonly V[], typed: string, most: number): V[] {
  const asked = plain(typed)
  if (asked === '') return []
  const found: V[][] = [[], [], []]
  for (const vehicle of vehicles) {
    const names = [vehicle.unit, vehicle.plate ?? ''].map(plain)
    if (names.includes(asked)) found[0]?.push(vehicle)
    else if (names.some((name) => name.startsWith(asked))) found[1]?.push(vehicle)
    else if (names.some((name) => name.includes(asked))) found[2]?.push(vehicle)
  }
  return found.flat().slice(0, most)
}

/** What was scanned: a vehicle of ours, an address of ours that leads to one, or nothing that we know. */
export type Scanned = { unit: string } | { address: string } | null

/**
 * Reads what a label says. A label of ours carries an address that ends in `/at/NUMBER` or `/q/KEY`; of its host nothing
 * is taken, for the product may be known by another name than when the label was printed. Other labels may carry the
 * number itself.
 */
export function scannedAs(text: string, vehicles: readonly Findable[]): Scanned {
  const given = text.trim()
  if (/^https?:\/\//i.test(given) && URL.canParse(given)) {
    const { pathname, searchParams } = new URL(given)
    const { unit } = atPlaceIn(pathname, searchParams)
    if (unit !== null) return { unit }
    return /^\/q\/[\w-]+$/.test(pathname) ? { address: pathname } : null
  }
  const asked = plain(given)
  const [own, ...others] =
    asked === ''
      ? []
      : vehicles.filter(({ unit, plate }) => [unit, plate ?? ''].some((name) => plain(name) === asked))
  return own !== undefined && others.length === 0 ? { unit: own.unit } : null
}
