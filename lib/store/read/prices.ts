import { type Prices, pricesOf } from '@/lib/decisions/costs'
import type { OrganisationScope } from '../with-organisation'
import { readKnownLibrary } from './known-library'
import { readSettings } from './settings'

/** What hours, visits and days off the road cost; null before the first library. */
export async function readPrices(scope: OrganisationScope): Promise<Prices | null> {
  const known = await readKnownLibrary(scope)
  return known && pricesOf(known.library, await readSettings(scope))
}
