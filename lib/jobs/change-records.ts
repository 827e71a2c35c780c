import { errorDetails } from '@/lib/log/error-details.mjs'
import { logEvent } from '@/lib/log/log-event.mjs'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { freshenOwnUsage, rescoreTouched } from './inner/rescore-touched'
import type { VehicleChange } from './vehicle-change'

/** More vehicles than this are left to whoever brings scores up to date in the background. */
const SCORED_AT_ONCE = 20

/**
 * Changes records and, where few vehicles are touched, scores them in the same transaction: the background is told of
 * it when it is done, and finds nothing to do. What was changed is kept even where it cannot be scored.
 *
 * @param act what is done; it answers the vehicles that it touched. It may be asked a second time, in a transaction of
 *   its own, where the first one failed after it
 * @param now the present instant
 * @returns what the act answered, and what became of the scores; no vehicle where too many were touched
 */
export async function changeRecords<Result extends { touched: string[] } | { ok: false }>(
  database: Database,
  organisation: OrganisationId,
  act: (scope: OrganisationScope) => Promise<Result>,
  now: Date,
): Promise<{ result: Result; vehicles: VehicleChange[] }> {
  const write: Write = (work) => withOrganisation(database, organisation, work, 'write')
  let acted = false
  const actAndScore = async (scope: OrganisationScope) => {
    const result = await act(scope)
    acted = true
    const touched = 'touched' in result ? result.touched : []
    const few = touched.length > 0 && touched.length <= SCORED_AT_ONCE
    return { result, touched, vehicles: few ? await rescoreTouched(scope, touched, now) : [] }
  }
  const done = await write(actAndScore).catch(async (error) => {
    if (!acted) throw error
    tellUnscored(error)
    return { result: await write(act), touched: [], vehicles: [] }
  })
  const { result, touched } = done
  if (done.vehicles !== null) return { result, vehicles: done.vehicles }
  return { result, vehicles: await scoreApart(write, touched, now) }
}

type Write = <T>(work: (scope: OrganisationScope) => Promise<T>) => Promise<T>

/** Apart from what was changed: others are changed, too, and whoever does that must not hold these already. */
async function scoreApart(write: Write, touched: string[], now: Date): Promise<VehicleChange[]> {
  try {
    await write((scope) => freshenOwnUsage(scope, touched, now))
    return (await write((scope) => rescoreTouched(scope, touched, now))) ?? []
  } catch (error) {
    tellUnscored(error)
    return []
  }
}

const tellUnscored = (error: unknown) => logEvent('records kept without scores', errorDetails(error))
