/** After a failure: what was said of the part on each past day, what was known then, and what was done about it. */
import type { WeakPoint } from '@/lib/records/library'
import type { RepairRow } from '@/lib/records/rows'
import { fewest, whereMoved } from '@/lib/replay/said-before-failure'
import type { Database } from '@/lib/store/database'
import { HISTORY_HORIZON_DAYS } from '@/lib/store/horizons'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { withOrganisation } from '@/lib/store/with-organisation'
import { type Day, parseDay } from '@/lib/units/dates'
import { type AskedFailure, readSaidGround } from './inner/said-ground'
import { type Told, ToldDays } from './inner/told-days'
import { workOutAfterwards } from './inner/worked-out'

export type { Told } from './inner/told-days'

/** What was said of one part before it failed. */
export type WhatWeSaid = {
  repair: RepairRow
  weakPoint: WeakPoint
  /** The position that is told of, and those that the repair names; none where it was not written down which. */
  position: number
  positions: number[]
  /** Whether the library knows any sign of it. */
  hasSigns: boolean
  horizonDays: number
  /** From scores that were kept, the earliest first: at most so many, and how many of the others lie between. */
  kept: Told[]
  keptBetween: number
  /** The first day of a kept score; null where there is none before the failure. */
  keptFrom: Day | null
  /** Of the days before scores were kept: worked out afterwards from the records as they stood. */
  workedOut: Told[]
  /** The last day that the replay looked back from by which it is told how often chances come true; null where none speaks of this horizon. */
  replayedTo: Day | null
}

/** So many days are told: more do not fit on one page. Of those that were kept some are left out before the others all are. */
const MOST_TOLD = 10
const MOST_KEPT = 8

/**
 * What we said of a part that failed.
 *
 * Scores that were kept and chances that are worked out afterwards are never mixed: the latter are of days before the
 * first score was kept, for an organisation may bring its history in long after it happened. What was known is for the
 * former what lay in the store at that moment, for the latter what had been written down by that day.
 *
 * @param asked `repair` the id of a record that counts, on which a part was found failed; `position` null: the first
 * @returns null where there is no such failure of a part that the library knows
 */
export async function whatWeSaid(
  database: Database,
  organisation: OrganisationId,
  asked: AskedFailure,
): Promise<WhatWeSaid | null> {
  const ground = await withOrganisation(database, organisation, (scope) => readSaidGround(scope, asked))
  if (!ground) return null
  const { repair, component, kept, position } = ground
  const afterwards = await workOutAfterwards(database, organisation, ground)
  const told = new ToldDays(ground, afterwards.own)
  const shown = fewest(kept, MOST_KEPT)
  return {
    repair,
    weakPoint: component.plan.components[component.index]!.weakPoint,
    position,
    positions: repair.positions,
    hasSigns: component.plan.signsOf[component.index]!.length > 0,
    horizonDays: HISTORY_HORIZON_DAYS,
    kept: shown.map((score) => told.ofKept(score)),
    keptBetween: kept.length - shown.length,
    keptFrom: kept[0]?.asOf ?? null,
    workedOut: fewest(whereMoved(afterwards.scores), MOST_TOLD - shown.length).map((each) =>
      told.ofWorkedOut(each),
    ),
    replayedTo: ground.replay && parseDay(ground.replay.to),
  }
}
