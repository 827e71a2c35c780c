import { IN_STOCK, STOCK, STOCK_BASIS } from '../inner/stock-sql'
import type { OrganisationScope } from '../with-organisation'

export type StaleStock = { unit: string; basis: string }

/** Vehicles in stock or under cover of which nothing is kept that rests on what is there now. */
export async function readStaleStock({ tx }: OrganisationScope, limit: number): Promise<StaleStock[]> {
  return tx.$queryRawUnsafe<StaleStock[]>(
    `select vehicle.unit, ${STOCK_BASIS} as basis from ${STOCK}
     where ${IN_STOCK} and kept.basis is distinct from ${STOCK_BASIS} order by vehicle.id limit $1::int`,
    limit,
  )
}

/** How many there are, and how many of them wait. */
export async function countStock({ tx }: OrganisationScope): Promise<{ all: number; stale: number }> {
  const [found] = await tx.$queryRawUnsafe<{ all: number; stale: number }[]>(
    `select count(*)::int as "all",
       (count(*) filter (where kept.basis is distinct from ${STOCK_BASIS}))::int as stale
     from ${STOCK} where ${IN_STOCK}`,
  )
  return found ?? { all: 0, stale: 0 }
}

/** Vehicles in stock that have not been scored yet: of them nothing can be reckoned. */
export async function countUnscoredStock({ tx }: OrganisationScope): Promise<number> {
  const [found] = await tx.$queryRaw<{ count: number }[]>`
    select count(*)::int as count from vehicles
    where withdrawn_at is null and status = 'stock' and scored_from is null`
  return found?.count ?? 0
}
