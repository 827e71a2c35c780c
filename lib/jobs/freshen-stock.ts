import { setImmediate as nextTurn } from 'node:timers/promises'
import { pricesOf } from '@/lib/decisions/costs'
import { type LotVehicle, lotTotal } from '@/lib/decisions/lot'
import { type ClaimsAgainst, claimsAgainst, type LotSummary, lotSummary } from '@/lib/decisions/lot-summary'
import { OTHER_WEAK_POINT } from '@/lib/records/rows'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import { readSettings } from '@/lib/store/read/settings'
import { readStaleStock } from '@/lib/store/read/stale-stock'
import { type LotPart, readClaimsPaid, readLotBasis, readLotParts } from '@/lib/store/read/stock-lot'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { dropPastStock, keepStockAmount } from '@/lib/store/write/keep-stock-amount'
import { keepStockLot } from '@/lib/store/write/keep-stock-lot'
import { scorerOn } from './inner/scorer-on'
import { stockAmountOf, USUAL_SHARE } from './inner/stock-amount'

/** The sum over the lot: what may come of all that is in stock or under cover, and what has come of what was sold. */
export type StockLot = {
  /** Vehicles whose amounts are in the sum. */
  vehicles: number
  total: LotSummary
  share: number
  /** Of sold vehicles under cover, since their sales; null where there are none. */
  claims: (ClaimsAgainst & { vehicles: number }) | null
}

/** So many vehicles are one transaction: what is cut short is at most that much work lost. */
const AT_ONCE = 5

/**
 * Reckons what is set aside for every vehicle in stock or under cover that is not known as things are now, then the sum.
 * Several may do so at once: what they keep is the same.
 *
 * @param now the present instant
 * @returns how many vehicles were reckoned; none without a library
 */
export async function freshenStock(
  database: Database,
  organisation: OrganisationId,
  now: Date,
): Promise<number> {
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  let done = 0
  for (;;) {
    const reckoned = await write((scope) => freshenSome(scope, now))
    if (reckoned === 0) break
    done += reckoned
  }
  await write((scope) => freshenLot(scope, now))
  return done
}

async function freshenSome(scope: OrganisationScope, now: Date): Promise<number> {
  const stale = await readStaleStock(scope, AT_ONCE)
  const scoring = stale.length > 0 ? await readScoringGround(scope, now) : null
  if (!scoring) return 0
  const scorer = await scorerOn(scope, scoring)
  for (const { unit, basis } of stale) {
    await keepStockAmount(scope, { unit, basis, now }, await stockAmountOf(scope, { scoring, scorer }, unit))
    await nextTurn() // what ends the process is heard between two vehicles
  }
  return stale.length
}

/** The sum, where it does not rest on the vehicles as they are kept now. */
async function freshenLot(scope: OrganisationScope, now: Date): Promise<void> {
  const basis = await readLotBasis(scope)
  if (basis.now === basis.kept) return
  await dropPastStock(scope)
  const settings = await readSettings(scope)
  const library = (await readKnownLibrary(scope))?.library
  if (!library) return
  const parts = await readLotParts(scope)
  const share = settings.setAsideShare ?? USUAL_SHARE
  const content: StockLot = {
    vehicles: parts.length,
    total: lotSummary(lotTotal(parts.map(({ family, byLife }) => ({ family, points: byLife }))), share),
    share,
    claims: await claimsOf(scope, parts, pricesOf(library, settings).labourRate),
  }
  await keepStockLot(scope, { basis: basis.now, content, now })
}

async function claimsOf(
  scope: OrganisationScope,
  parts: LotPart[],
  labourRate: number,
): Promise<StockLot['claims']> {
  const sold = parts.flatMap(({ family, sinceSale }): LotVehicle[] =>
    sinceSale === null ? [] : [{ family, points: sinceSale }],
  )
  if (sold.length === 0) return null
  const paid = await readClaimsPaid(scope, OTHER_WEAK_POINT)
  return { vehicles: sold.length, ...claimsAgainst(lotTotal(sold), paid, labourRate) }
}
