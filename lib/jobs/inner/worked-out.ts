import { setImmediate as nextTurn } from 'node:timers/promises'
import { groupByVehicle, listRecords, type OneRecord } from '@/lib/records/vehicle-records'
import type { PastRecords } from '@/lib/replay/records-as-of'
import { type WorkedOut, workedOutOn } from '@/lib/replay/said-before-failure'
import type { Database } from '@/lib/store/database'
import { HISTORY_HORIZON_DAYS } from '@/lib/store/horizons'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readRecordsState } from '@/lib/store/read/records-state'
import { readRecordsToRewind } from '@/lib/store/read/records-to-rewind'
import { withOrganisation } from '@/lib/store/with-organisation'
import { LastAsked } from './last-asked'
import type { SaidGround } from './said-ground'

/** What would have been said on past days, and every record of the vehicle as it can be rewound. */
export type Afterwards = { scores: WorkedOut[]; own: OneRecord[] }

const NOTHING: Afterwards = { scores: [], own: [] }

/** Each takes as long as judging the odometers of a whole fleet for a dozen days, and is asked for again when printed. */
const kept = new LastAsked<Afterwards>(32)

/**
 * Works out what would have been said of a part on the days before scores were kept.
 *
 * The answer is kept until a record of the organisation, its library or its settings change.
 */
export async function workOutAfterwards(
  database: Database,
  organisation: OrganisationId,
  ground: SaidGround,
): Promise<Afterwards> {
  if (ground.days.length === 0) return NOTHING
  const { vehicle, repair, position, days, restsOn } = ground
  const keyIn = (state: string) =>
    JSON.stringify([organisation, state, restsOn, vehicle.unit, repair.weakPoint, position, days])
  const state = await withOrganisation(database, organisation, readRecordsState)
  const known = kept.get(keyIn(state))
  if (known) return known
  const read = await withOrganisation(database, organisation, async (scope) => ({
    state: await readRecordsState(scope),
    past: await readRecordsToRewind(scope),
  }))
  const own = groupByVehicle(read.past).find(({ vehicle: { unit } }) => unit === vehicle.unit)
  const scores = await workOut(ground, read.past)
  return kept.keep(keyIn(read.state), { scores, own: own ? listRecords(own) : [] })
}

/** One day after the other: it takes as long as the fleet is large, and whoever shares the process has its turn. */
async function workOut(
  { days, library, vehicle: { unit }, repair: { weakPoint }, position }: SaidGround,
  records: PastRecords,
): Promise<WorkedOut[]> {
  const asked = { records, library, unit, weakPoint, position, days: HISTORY_HORIZON_DAYS }
  const found: WorkedOut[] = []
  for (const day of days) {
    const score = workedOutOn(asked, day)
    if (score) found.push(score)
    await nextTurn()
  }
  return found
}
