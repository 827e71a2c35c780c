import type { Settings } from '@/lib/records/settings'
import type { Database } from '../database'
import { newId } from '../inner/new-id'

/**
 * Makes an organisation without records.
 *
 * @returns its id, still to be minted; null when there is one of that name
 */
export async function createOrganisation(
  database: Database,
  { name, settings, now }: { name: string; settings: Settings; now: Date },
): Promise<string | null> {
  const id = newId(now)
  const made = await database.$executeRaw`
    insert into organisations (id, name, settings, created_at)
    values (${id}::uuid, ${name}, ${JSON.stringify(settings)}::jsonb, ${now})
    on conflict (name) do nothing`
  return made === 1 ? id : null
}
