import type { Day } from '@/lib/units/dates'
import { IN_STOCK, STOCK, STOCK_BASIS } from '../inner/stock-sql'
import { STANDINGS, type Standing } from '../standing'
import type { OrganisationScope } from '../with-organisation'

/** A vehicle in stock, or sold and still under cover, with what is set aside for it. */
export type StockRow = {
  unit: string
  plate: string | null
  family: string
  status: 'stock' | 'sold'
  standing: Standing
  asOf: Day
  acquiredOn: Day | null
  soldOn: Day | null
  /** Since it was bought; of a sold one, until it was sold. Null where the day is not on record. */
  daysInStock: number | null
  askingPrice: number | null
  value: number | null
  coverDays: number | null
  coverKm: number | null
  coverOf: 'vehicle' | 'terms' | 'usual' | null
  /** Null where it is not reckoned yet, or not assessed. */
  amount: number | null
  p50: number | null
  p95: number | null
  mean: number | null
  meanOfUnknown: number | null
  /** What stands here does not rest on what is there now, or nothing does yet. */
  stale: boolean
}

const EPOCH = `date '1970-01-01'`

/** All of them, by number. */
export async function readStockRows({ tx }: OrganisationScope): Promise<StockRow[]> {
  const found = await tx.$queryRawUnsafe<(StockRow & { urgency: number })[]>(
    `select vehicle.unit, vehicle.plate, score.family_name as family, vehicle.status, score.urgency,
       score.as_of - ${EPOCH} as "asOf", vehicle.acquired_on - ${EPOCH} as "acquiredOn",
       coalesce(vehicle.sold_on, vehicle.left_on) - ${EPOCH} as "soldOn",
       case when vehicle.status = 'sold' then coalesce(vehicle.sold_on, vehicle.left_on) - vehicle.acquired_on
         else score.as_of - vehicle.acquired_on end as "daysInStock",
       vehicle.asking_price as "askingPrice", vehicle.value, kept.cover_days as "coverDays",
       kept.cover_km as "coverKm", kept.cover_of as "coverOf", kept.amount, kept.p50, kept.p95, kept.mean,
       kept.mean_of_unknown as "meanOfUnknown", kept.basis is distinct from ${STOCK_BASIS} as stale
     from ${STOCK} where ${IN_STOCK} order by score.number_key collate "C", vehicle.unit collate "C"`,
  )
  return found.map(({ urgency, ...row }) => ({ ...row, standing: STANDINGS[urgency - 1] ?? 'not-assessed' }))
}
