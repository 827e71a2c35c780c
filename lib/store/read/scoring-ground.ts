import crypto from 'node:crypto'
import type { Settings } from '@/lib/records/settings'
import { type Day, dayIn, formatDay } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'
import { readLibraryInForce, type StoredLibrary } from './library-in-force'

/** What all vehicles of an organisation are scored on. */
export type ScoringGround = {
  settings: Settings
  library: StoredLibrary
  /** Which fit is in force; null before the first. */
  fit: string | null
  asOf: Day
  /** When the organisation began. */
  since: Date
  /** All of it in one text: other text, other scores. */
  text: string
}

/**
 * The ground as of today in the organisation's time zone.
 *
 * @param now the present instant
 * @returns null before its first library
 */
export async function readScoringGround(scope: OrganisationScope, now: Date): Promise<ScoringGround | null> {
  const library = await readLibraryInForce(scope)
  const [found] = await scope.tx.$queryRaw<{ settings: Settings; since: Date; fit: string | null }[]>`
    select settings, created_at as since, (select id::text from fits order by made_at desc, id desc limit 1) as fit
    from organisations where id = ${scope.organisation}::uuid`
  if (!library || !found) return null
  const { settings, since, fit } = found
  const asOf = dayIn(settings.timeZone, now)
  const { serviceLevel: _, ...scoredOn } = settings // how many parts are kept moves no score
  const hash = crypto.createHash('sha256').update(JSON.stringify(scoredOn)).digest('base64url')
  return {
    settings,
    library,
    fit,
    asOf,
    since,
    text: `library ${library.version} | fit ${fit ?? 'none'} | settings ${hash} | ${formatDay(asOf)}`,
  }
}
