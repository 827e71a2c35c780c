/**
 * The vehicles that something is set aside for: in stock, or sold and still under cover, for only those are scored. Each
 * with what is kept of it, which is stale where it does not rest on its scores and terms as they are now.
 */
export const STOCK = `vehicles vehicle
  join vehicle_scores score on score.organisation_id = vehicle.organisation_id and score.vehicle_id = vehicle.id
    and score.horizon_days = 90
  left join stock_amounts kept on kept.organisation_id = vehicle.organisation_id and kept.vehicle_id = vehicle.id`

export const IN_STOCK = `vehicle.withdrawn_at is null and vehicle.status in ('stock', 'sold')`

/** What an amount rests on: the vehicle's scores, with the settings and the day in them, and the terms of its cover. */
export const STOCK_BASIS = `concat_ws(' | ', 'stock 1', vehicle.scored_from, (
  select terms.id::text from cover_terms terms where terms.organisation_id = vehicle.organisation_id
    and terms.vehicle_id = vehicle.id and terms.undone_at is null order by terms.made_at desc, terms.id desc limit 1))`
