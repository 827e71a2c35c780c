import type { PointByLife } from '@/lib/decisions/lot'
import { IN_STOCK } from '../inner/stock-sql'
import type { OrganisationScope } from '../with-organisation'

/** What is set aside for one vehicle. */
export type StockAmount = {
  coverDays: number
  coverKm: number | null
  coverOf: 'vehicle' | 'terms' | 'usual'
  /** Enough in the share of cases that the organisation has chosen; in half; in nineteen of twenty. */
  amount: number
  p50: number
  p95: number
  mean: number
  /** Of the mean, what is due to parts of which nobody knows how old they are. */
  meanOfUnknown: number
  byLife: PointByLife[]
  /** The same for the time since its sale, as it was thought of then; null where it is not sold. */
  sinceSale: PointByLife[] | null
}

/** Keeps it, with what it rests on. @param amount null where the vehicle is not assessed */
export async function keepStockAmount(
  { tx }: OrganisationScope,
  { unit, basis, now }: { unit: string; basis: string; now: Date },
  amount: StockAmount | null,
): Promise<void> {
  const json = (value: unknown) => (value == null ? null : JSON.stringify(value))
  await tx.$executeRaw`
    insert into stock_amounts (organisation_id, vehicle_id, basis, made_at, family, cover_days, cover_km, cover_of, amount,
      p50, p95, mean, mean_of_unknown, by_life, since_sale)
    select organisation_id, id, ${basis}, ${now}, family, ${amount?.coverDays ?? null}::integer,
      ${amount?.coverKm ?? null}::float8, ${amount?.coverOf ?? null}, ${amount?.amount ?? null}::float8,
      ${amount?.p50 ?? null}::float8, ${amount?.p95 ?? null}::float8, ${amount?.mean ?? null}::float8,
      ${amount?.meanOfUnknown ?? null}::float8, ${json(amount?.byLife)}::json, ${json(amount?.sinceSale)}::json
    from vehicles where unit = ${unit} and withdrawn_at is null
    on conflict (organisation_id, vehicle_id) do update set basis = excluded.basis, made_at = excluded.made_at,
      family = excluded.family, cover_days = excluded.cover_days, cover_km = excluded.cover_km,
      cover_of = excluded.cover_of, amount = excluded.amount, p50 = excluded.p50, p95 = excluded.p95,
      mean = excluded.mean, mean_of_unknown = excluded.mean_of_unknown, by_life = excluded.by_life,
      since_sale = excluded.since_sale`
}

/** Lets go of what is kept of vehicles that are no longer in stock. */
export async function dropPastStock({ tx }: OrganisationScope): Promise<void> {
  await tx.$executeRawUnsafe(
    `delete from stock_amounts kept where not exists (
       select from vehicles vehicle join vehicle_scores score on score.organisation_id = vehicle.organisation_id
         and score.vehicle_id = vehicle.id and score.horizon_days = 90
       where vehicle.organisation_id = kept.organisation_id and vehicle.id = kept.vehicle_id and ${IN_STOCK})`,
  )
}
