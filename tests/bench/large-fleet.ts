/** 50,000 vehicles with scores at four horizons, drawn by the database. */
import { Client } from 'pg'

export const VEHICLES = 50_000
export const ORGANISATION = '019ca000-0000-7000-8000-000000000001'

const CHOOSE = (words: readonly string[], n: string) =>
  `(array['${words.join("','")}'])[1 + (${n})::int % ${words.length}]`
const ADVISED = `(array['stop', 'book', 'check', 'watch', 'fine'])[width_bucket(random(), array[0, 0.01, 0.06, 0.12, 0.3])]`

/** A fleet of numbers, not of records: what is measured on it is finding, sorting, counting and showing, not scoring. */
export async function drawLargeFleet(adminUrl: string): Promise<void> {
  const client = new Client(adminUrl)
  await client.connect()
  try {
    await client.query(`
      select setseed(0.5);
      insert into organisations values ('${ORGANISATION}', 'Bench',
        '{"locale": "en", "timeZone": "UTC", "distance": "km", "currency": "EUR", "slotDays": 14}', now());
      insert into vehicles (organisation_id, id, unit, plate, site, status, family, history, duty, value, customer,
        entered_at, notes, line)
      select '${ORGANISATION}', gen_random_uuid(), 'V-' || n, 'AB ' || (n * 7919) % 100000, 'Site ' || n % 40,
        ${CHOOSE(['active', 'active', 'active', 'stock', 'sold'], 'n')}, 'family-' || n % 6, ${CHOOSE(['full', 'none'], 'n')},
        'mixed', 5000 + n % 20000, 'Customer ' || (n * 31) % 9000, now(), '{}', n
      from generate_series(1, ${VEHICLES}) n;
      insert into vehicle_scores (organisation_id, vehicle_id, horizon_days, as_of, library_version, scored_at, assessed,
        family_name, odometer_km, odometer_read_on, odometer_estimated, km_per_day, standing, combined, advice,
        last_full_scan_on, last_looked_at_on, weak_points_covered, leading_weak_point, leading_name, leading_position,
        leading_place, p_fail, p_low, p_high, cost_of_waiting, speaks)
      select organisation_id, id, horizon, '2026-11-24', 1, now(), line % 50 <> 0, 'Plover ' || line % 6, random() * 200000,
        date '2026-11-24' - (random() * 200)::int, true, 50, false, p, ${ADVISED},
        case when random() < 0.6 then date '2026-11-24' - (random() * 400)::int end,
        case when random() < 0.7 then date '2026-11-24' - (random() * 400)::int end, 9, 'point-' || line % 30,
        'Weak point ' || line % 30, 1 + line % 4, 'cylinder', p, p / 2, least(1, p * 2), random() * 300 - 250,
        1000 * (line % 200) || ' km run, half begin to go by 120,000 km; misfire seen 12 Nov 2026'
      from vehicles, unnest(array[30, 90, 180, 365]) horizon, lateral (select (line * 0 + random() * random()) * horizon / 365 as p) drawn;
      insert into component_scores (organisation_id, vehicle_id, weak_point, position, horizon_days, as_of, library_version,
        p_fail, p_low, p_high, p_developing, cost_of_waiting, advice, speaks)
      select organisation_id, id, 'point-' || point, 1, horizon, '2026-11-24', 1, p, p / 2, least(1, p * 2), p,
        random() * 300 - 250, ${ADVISED}, 'half begin to go by 120,000 km'
      from vehicles, generate_series(1, 8) point, unnest(array[30, 90, 180, 365]) horizon,
        lateral (select (line * 0 + random() * random()) * horizon / 365 as p) drawn;`)
    for (const table of ['vehicles', 'vehicle_scores', 'component_scores'])
      await client.query(`vacuum analyze ${table}`)
  } finally {
    await client.end()
  }
}
