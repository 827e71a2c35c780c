import type { FleetScores, VehicleScore } from '@/lib/decisions/score-fleet'
import type { Library } from '@/lib/records/library'
import type { VehicleRow } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import { STORED_HORIZONS_DAYS } from '../horizons'
import { insertOnVehicles } from '../inner/insert-rows'
import { leadingComponent } from '../inner/leading-component'
import {
  COMPONENT_SCORE_COLUMNS,
  type ComponentScoreRow,
  VEHICLE_SCORE_COLUMNS,
  type VehicleScoreRow,
} from '../inner/score-tables'
import type { OrganisationScope } from '../with-organisation'

/** What scores were made from, and when. */
export type ScoresOrigin = {
  vehicles: VehicleRow[]
  library: Library
  libraryVersion: number
  scoredAt: Date
}

/** Puts the scores of a whole organisation in the place of the earlier ones. */
export async function replaceScores(
  scope: OrganisationScope,
  scores: FleetScores,
  origin: ScoresOrigin,
): Promise<void> {
  await scope.tx.$executeRaw`delete from component_scores`
  await scope.tx.$executeRaw`delete from vehicle_scores`
  const familyOf = new Map(origin.vehicles.map(({ unit, family }) => [unit, family]))
  const rows = scores.vehicles.flatMap((score) =>
    STORED_HORIZONS_DAYS.map((days) =>
      vehicleRow(score, days, scores.asOf, familyOf.get(score.unit) ?? '', origin),
    ),
  )
  await insertOnVehicles(scope, { name: 'vehicle_scores', columns: VEHICLE_SCORE_COLUMNS }, rows)
  const components = scores.vehicles.flatMap((score) =>
    componentRows(score, scores.asOf, origin.libraryVersion),
  )
  await insertOnVehicles(scope, { name: 'component_scores', columns: COMPONENT_SCORE_COLUMNS }, components)
}

function vehicleRow(
  score: VehicleScore,
  horizonDays: number,
  asOf: Day,
  family: string,
  { library, libraryVersion, scoredAt }: ScoresOrigin,
): VehicleScoreRow {
  const { horizons, components, ...ofVehicle } = score
  const atHorizon = components.filter((component) => component.horizonDays === horizonDays)
  return {
    ...ofVehicle,
    horizonDays,
    asOf,
    libraryVersion,
    scoredAt,
    familyName: library.families.find(({ key }) => key === family)?.name ?? family,
    combined: horizons.find(({ days }) => days === horizonDays)?.combined ?? null,
    ...leadingComponent(atHorizon, family, library),
  }
}

function componentRows(score: VehicleScore, asOf: Day, libraryVersion: number): ComponentScoreRow[] {
  return score.components.flatMap(({ horizonDays, horizonKm: _, ...component }) =>
    horizonDays === null ? [] : [{ ...component, horizonDays, asOf, libraryVersion }],
  )
}
