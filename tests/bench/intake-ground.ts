/** An organisation with vehicles of an engine that nobody described, and what COPY takes for what was brought in. */
import { Client } from 'pg'
import { startEmbeddedServer } from '@/lib/store/inner/embedded-server'
import { startDatabase } from '@/lib/store/start-database'

export const VEHICLES = 5000
export const ORGANISATION = '019ca000-0000-7000-8000-000000000002'

/** Draws the vehicles into a new database in `home`. */
export async function drawVehicles(home: string): Promise<void> {
  const started = await startDatabase({ home })
  try {
    await asAdmin(home, (client) =>
      client.query(`
        insert into organisations values ('${ORGANISATION}', 'Bench',
          '{"locale": "en", "timeZone": "UTC", "distance": "km", "currency": "EUR", "slotDays": 14}', now());
        insert into vehicles (organisation_id, id, unit, status, family, history, duty, entered_at, notes, line)
        select '${ORGANISATION}', gen_random_uuid(), 'V-' || n, 'active', 'bench', 'full', 'mixed', now(), '{}', n
        from generate_series(1, ${VEHICLES}) n`),
    )
  } finally {
    await started.stop()
  }
}

/** Copies the readings out, empties their table, and copies them in again; the seconds of the latter. */
export async function copyAgain(home: string): Promise<number> {
  return asAdmin(home, async (client) => {
    await client.query(`
      create table copied as table readings;
      truncate readings;
      checkpoint`)
    const { rows } = await client.query<{ place: string }>(
      `select current_setting('data_directory') || '/bench.copy' as place`,
    )
    await client.query(`copy copied to '${rows[0]?.place}'`)
    const from = performance.now()
    await client.query(`copy readings from '${rows[0]?.place}'`)
    return (performance.now() - from) / 1000
  })
}

async function asAdmin<T>(home: string, work: (client: Client) => Promise<T>): Promise<T> {
  const server = await startEmbeddedServer(home)
  const client = new Client(server.adminUrl('gudgeon'))
  await client.connect()
  try {
    return await work(client)
  } finally {
    await client.end()
    await server.release()
  }
}
