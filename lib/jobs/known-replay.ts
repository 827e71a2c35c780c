import type { Replay } from '@/lib/replay/replay'
import { parseReplay } from '@/lib/replay/stored-replay'
import { readReplay } from '@/lib/store/read/track-record'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { LastAsked } from './inner/last-asked'

/** What is kept of a replay never changes; a page that looks every second how far the next one is reads it once. */
const read = new LastAsked<Replay | null>(8)

/**
 * What a replay of the scope's organisation holds.
 *
 * @param id of one that was found in this scope
 * @returns null for one of another make, which has to be made anew; nobody may change what is handed out
 */
export async function knownReplay(scope: OrganisationScope, id: string): Promise<Replay | null> {
  const known = read.get(id)
  if (known !== undefined) return known
  const stored = await readReplay(scope, id)
  return read.keep(id, stored && parseReplay(stored.content))
}
