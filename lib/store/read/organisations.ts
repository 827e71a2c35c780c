import type { Settings } from '@/lib/records/settings'
import type { Database } from '../database'

/** An organisation by its id as text; who may work in it is for `people` to say. */
export type Organisation = { id: string; name: string; settings: Settings }

/** Every organisation of this installation, the oldest first. */
export async function readOrganisations(database: Database): Promise<Organisation[]> {
  return database.$queryRaw<Organisation[]>`
    select id::text, name, settings from organisations order by created_at, id`
}
