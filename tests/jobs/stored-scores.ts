import { expect } from 'vitest'
import { scoreFleet } from '@/lib/decisions/score-fleet'
import type { FleetFit } from '@/lib/scoring/family-fit'
import type { Database } from '@/lib/store/database'
import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readRecords } from '@/lib/store/read/records'
import { withOrganisation } from '@/lib/store/with-organisation'
import { type SomeFleet, TODAY } from './demo-fleet'

/** One stored score of a component, with everything that it says. */
export type StoredScore = {
  unit: string
  weakPoint: string
  position: number
  horizonDays: number
  [column: string]: unknown
}

export const keyOf = ({ unit, weakPoint, position, horizonDays }: StoredScore) =>
  `${unit} ${weakPoint} ${position} ${horizonDays}`

/** Every component score of the organisation. */
export async function storedScores(
  database: Database,
  organisation: OrganisationId,
): Promise<Map<string, StoredScore>> {
  const rows = await withOrganisation(
    database,
    organisation,
    ({ tx }) => tx.$queryRaw<StoredScore[]>`
      select vehicle.unit, score.weak_point as "weakPoint", score.position, score.horizon_days as "horizonDays",
        score.p_fail as "pFail", score.p_low as "pLow", score.p_high as "pHigh", score.p_developing as "pDeveloping",
        score.remaining_km_p50 as "remainingKmP50", score.cost_of_waiting as "costOfWaiting",
        score.waiting_low as "waitingLow", score.waiting_high as "waitingHigh", score.advice, score.speaks
      from component_scores score join vehicles vehicle on vehicle.id = score.vehicle_id
      order by vehicle.unit, score.weak_point, score.position, score.horizon_days`,
  )
  return new Map(rows.map((row) => [keyOf(row), row]))
}

/**
 * Holds the stored scores to those of the stored records scored without a store, number by number.
 *
 * @param fit what they were to rest on beside the library
 * @returns how many were compared
 */
export async function expectAsScored(
  database: Database,
  organisation: OrganisationId,
  { library }: SomeFleet,
  fit: FleetFit | null = null,
): Promise<number> {
  const records = await withOrganisation(database, organisation, (scope) => readRecords(scope))
  const horizons = STORED_HORIZONS_DAYS.map((days) => ({ days }))
  const direct = scoreFleet({ records, library, asOf: TODAY, horizons, fit }).vehicles.flatMap(
    (one) => one.components,
  )
  const stored = await storedScores(database, organisation)
  expect(stored.size).toBe(direct.length)
  for (const { asOf: _, horizonKm: __, ...score } of direct) {
    const key = keyOf({ ...score, horizonDays: score.horizonDays ?? 0 })
    for (const [name, expected] of Object.entries(score)) {
      const found = stored.get(key)?.[name]
      if (typeof expected === 'number')
        expect(Math.abs(Number(found) - expected), `${key} ${name}`).toBeLessThan(1e-9)
      else expect(found, `${key} ${name}`).toBe(expected)
    }
  }
  return direct.length
}
