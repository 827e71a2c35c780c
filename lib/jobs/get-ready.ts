import { setTimeout as sleep } from 'node:timers/promises'
import type { Database } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readStandingVehicles } from '@/lib/store/read/standing-vehicles'
import { withOrganisation } from '@/lib/store/with-organisation'
import { rehearseEntry } from './inner/rehearse-entry'

/** After so many vehicles an entry takes a tenth of what the first one took. */
const VEHICLES = 40
/** Between two of them whoever asks for a page has their turn: for as long as the one took, and at least so long. */
const PAUSE_MS = 10
/** An organisation may still be on its way: the first start brings in the demo. */
const LOOK_AGAIN_MS = 5000
const TIMES = 12

/**
 * Enters a record on some vehicles, scores them and keeps nothing: code that has run is compiled, so that the first
 * record that somebody enters in this process is told of as quickly as every other. It has to be asked from where
 * records are entered: what the framework puts together for other places is other code, though it says the same.
 *
 * @param now the present instant
 * @returns on how many vehicles; 0 where there were none to be scored after a minute
 */
export async function getReady(database: Database, now: () => Date): Promise<number> {
  for (let time = 0; time < TIMES; time++) {
    let left = VEHICLES
    for (const { id } of await readOrganisations(database)) {
      if (left > 0) left -= await enterSome(database, organisationId(id), { most: left, now: now() })
    }
    if (left < VEHICLES) return VEHICLES - left
    await sleep(LOOK_AGAIN_MS, undefined, { ref: false })
  }
  return 0
}

/** @returns on how many vehicles a record was entered and scored */
async function enterSome(
  database: Database,
  organisation: OrganisationId,
  { most, now }: { most: number; now: Date },
): Promise<number> {
  const vehicles = await withOrganisation(database, organisation, (scope) => readStandingVehicles(scope))
  let entered = 0
  for (const { unit } of vehicles.slice(0, most)) {
    const from = performance.now()
    if (await rehearseEntry(database, organisation, { unit, now })) entered++
    await sleep(Math.max(PAUSE_MS, performance.now() - from), undefined, { ref: false })
  }
  return entered
}
