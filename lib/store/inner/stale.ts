/**
 * What a vehicle's score has to rest on now, in one text: its records, how its class is used, and the ground that it
 * shares with all others ($1). Where it differs from `scored_from`, the score is stale. Vehicles and class rates are
 * joined by `WITH_CLASS_RATE`.
 */
export const BASIS = `concat_ws(' | ', 'records ' || vehicle.records_version,
  'class ' || coalesce(own_class.rates, whole_fleet.rates)::text, $1::text)`

/** The class of a vehicle is named as in `lib/records/usage.ts`; the whole fleet answers for one that is not there. */
export const WITH_CLASS_RATE = `vehicles vehicle
  left join class_rates own_class on own_class.class = vehicle.duty || ' ' || vehicle.family
  left join class_rates whole_fleet on whole_fleet.class = ''`
