import { setTimeout as sleep } from 'node:timers/promises'
import type { Database } from '@/lib/store/database'
import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import { readStandingVehicles } from '@/lib/store/read/standing-vehicles'
import { withOrganisation } from '@/lib/store/with-organisation'
import { scorerOn } from './inner/scorer-on'

/** After so many vehicles scoring one takes a tenth of what the first one took. */
const VEHICLES = 40
/** Between two of them whoever asks for a page has their turn: for as long as the one took, and at least so long. */
const PAUSE_MS = 10
/** An organisation may still be on its way: the first start brings in the demo. */
const LOOK_AGAIN_MS = 5000
const TIMES = 12
const HORIZONS = STORED_HORIZONS_DAYS.map((days) => ({ days }))

/**
 * Scores some vehicles and keeps nothing: code that has run is compiled, so that the first record that somebody enters
 * in this process is scored as quickly as every other. It has to be asked from where records are entered: what the
 * framework puts together for other places is other code, though it says the same.
 *
 * @param now the present instant
 */
export async function getReady(database: Database, now: () => Date): Promise<void> {
  for (let time = 0; time < TIMES; time++) {
    let left = VEHICLES
    for (const { id } of await readOrganisations(database)) {
      if (left > 0) left -= await scoreSome(database, organisationId(id), { most: left, now: now() })
    }
    if (left < VEHICLES) return
    await sleep(LOOK_AGAIN_MS, undefined, { ref: false })
  }
}

/** @returns how many vehicles were scored */
async function scoreSome(
  database: Database,
  organisation: OrganisationId,
  { most, now }: { most: number; now: Date },
): Promise<number> {
  const vehicles = await withOrganisation(database, organisation, (scope) => readStandingVehicles(scope))
  let scored = 0
  for (const { unit } of vehicles.slice(0, most)) {
    const from = performance.now()
    await withOrganisation(database, organisation, async (scope) => {
      const ground = await readScoringGround(scope, now)
      if (!ground) return
      const scores = await (await scorerOn(scope, ground)).scoreAt(scope, unit, HORIZONS)
      if (scores.length > 0) scored++
    })
    await sleep(Math.max(PAUSE_MS, performance.now() - from), undefined, { ref: false })
  }
  return scored
}
