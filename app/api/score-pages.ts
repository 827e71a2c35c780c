import type { z } from 'zod'
import { scoreVehicle } from '@/lib/jobs/score-vehicle'
import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'
import { readScores, type ScorePlace, type ScoreSort, type ScoresPage } from '@/lib/store/read/scores'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import type { LIST_SCORES } from './contract'
import { readCursor, writeCursor } from './cursor'
import { freshScores } from './fresh-scores'
import { Problem } from './problem'
import type { Call } from './serve'

export type ScoresAsked = z.output<typeof LIST_SCORES.query>

/** The scores that are asked for, a page at a time. */
export type Pages = (limit: number, after: ScorePlace | null) => Promise<ScoresPage>

/**
 * The scores that a request asks for, brought up to date first. Those for a horizon that is not kept are computed, for one
 * vehicle at a time.
 *
 * @throws Problem `invalid` for such a horizon without a vehicle
 */
export async function scoresFor({ database, present, now, query }: Call<ScoresAsked>): Promise<Pages> {
  const { organisation } = present
  const { horizon_days: horizonDays, weak_point: weakPoint, unit, family, site, advice } = query
  const asked = { horizonDays, weakPoint, unit, family, site, advice, ...orderOf(query.sort) }
  const within = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work)
  const toCompute = STORED_HORIZONS_DAYS.includes(horizonDays) ? null : unitNeeded(unit)
  await freshScores(database, organisation)
  const computed =
    toCompute === null
      ? null
      : await within((scope) =>
          scoreVehicle(scope, { unit: toCompute, horizons: [{ days: horizonDays }] }, now),
        )
  return (limit, after) => within((scope) => readScores(scope, { ...asked, limit, after }, computed))
}

function unitNeeded(unit: string | undefined): string {
  if (unit !== undefined) return unit
  const kept = STORED_HORIZONS_DAYS.join(', ')
  throw new Problem('invalid', `horizon_days: expected one of ${kept}; any other needs a unit`)
}

const orderOf = (sort: ScoresAsked['sort']): { sort: ScoreSort; descending: boolean } => ({
  sort: sort.replace('-', '') as ScoreSort,
  descending: sort.startsWith('-'),
})

/** A place as a client hands it back; it says by what the list was sorted. */
export const writePlace = (
  { key, unit, weakPoint, position }: ScorePlace,
  sort: ScoresAsked['sort'],
): string => writeCursor([sort, key, unit, weakPoint, position])

/**
 * Reads a place back.
 *
 * @throws Problem `invalid` where it is none of a list in this order
 */
export function readPlace(cursor: string, sort: ScoresAsked['sort']): ScorePlace {
  const isText = ['unit', 'weak_point'].includes(orderOf(sort).sort)
  const types = ['string', isText ? 'string' : 'number', 'string', 'string', 'number'] as const
  const [sorted, key, unit, weakPoint, position] = readCursor(cursor, types)
  if (sorted !== sort || !Number.isInteger(position))
    throw new Problem('invalid', 'after: is no `next` of an answer in this order')
  return { key, unit, weakPoint, position }
}
