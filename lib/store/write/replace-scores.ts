import type { VehicleScore } from '@/lib/decisions/score-fleet'
import type { VisitChoice } from '@/lib/decisions/visit-choice'
import type { Library } from '@/lib/records/library'
import type { VehicleRow } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import { HISTORY_HORIZON_DAYS, STORED_HORIZONS_DAYS } from '../horizons'
import { columnsOf } from '../inner/columns'
import { holdInOrder } from '../inner/hold-in-order'
import { arrayText, columnArrays, insertOnVehicles } from '../inner/insert-rows'
import { leadingComponent } from '../inner/leading-component'
import {
  COMPONENT_SCORE_COLUMNS,
  type ComponentScoreRow,
  VEHICLE_SCORE_COLUMNS,
  type VehicleScoreRow,
} from '../inner/score-tables'
import type { OrganisationScope } from '../with-organisation'

/** What a vehicle's score rests on: the version of its records, and that with all else that moves it, in one text. */
export type ScoreBasis = { recordsVersion: bigint; scoredFrom: string }

/** What scores were made from, and when. */
export type ScoresOrigin = {
  /** The vehicles whose scores these are; one of them without a score is not scored any more. */
  vehicles: Pick<VehicleRow, 'unit' | 'family'>[]
  library: Library
  libraryVersion: number
  scoredAt: Date
  /** By unit. Without it the scores count as stale from the start. */
  bases?: ReadonlyMap<string, ScoreBasis>
}

/** A vehicle's score, with what could be done on its visit where that was reckoned, too. */
export type PutScore = VehicleScore & { visit?: VisitChoice }

/** Instead of a vehicle's score: why it could not be reckoned. */
export type FailedScore = { unit: string; failure: string }

/**
 * Puts the scores of vehicles in the place of their earlier ones, and notes what has changed in their history. A
 * vehicle whose records have changed since they were read keeps what it has: others have scored it, or will.
 *
 * @returns the scores that were put
 */
export async function replaceScores(
  scope: OrganisationScope,
  scores: { asOf: Day; vehicles: (PutScore | FailedScore)[] },
  origin: ScoresOrigin,
): Promise<PutScore[]> {
  const held = await holdUnmoved(scope, origin)
  await scope.tx.$executeRaw`
    with components as (delete from component_scores where vehicle_id = any(${held.ids}::uuid[]))
    delete from vehicle_scores where vehicle_id = any(${held.ids}::uuid[])`
  const familyOf = new Map(origin.vehicles.map(({ unit, family }) => [unit, family]))
  const ours = scores.vehicles.filter(({ unit }) => held.units.has(unit))
  const rows = ours.flatMap((score) =>
    STORED_HORIZONS_DAYS.map((days) =>
      vehicleRow(score, days, scores.asOf, familyOf.get(score.unit) ?? '', origin),
    ),
  )
  await insertOnVehicles(scope, { name: 'vehicle_scores', columns: VEHICLE_SCORE_COLUMNS }, rows)
  const components = ours.flatMap((score) =>
    'failure' in score ? [] : componentRows(score, scores.asOf, origin.libraryVersion),
  )
  await insertOnVehicles(scope, { name: 'component_scores', columns: COMPONENT_SCORE_COLUMNS }, components)
  await noteHistory(scope, held.ids, origin.scoredAt)
  return ours.flatMap((score) => ('failure' in score ? [] : [score]))
}

const BASIS = columnsOf<{ unit: string; recordsVersion: bigint; scoredFrom: string }>({
  recordsVersion: 'bigint',
  scoredFrom: 'text',
})

/** Notes what the new scores rest on, and holds the vehicles whose records are still those. */
async function holdUnmoved(scope: OrganisationScope, { vehicles, bases }: ScoresOrigin) {
  const rows = vehicles.map(({ unit }) => ({ unit, ...bases?.get(unit) }))
  const units = rows.map(({ unit }) => unit)
  if (units.length > 1) await holdInOrder(scope, units)
  const held = await scope.tx.$queryRawUnsafe<{ id: string; unit: string }[]>(
    `update vehicles set scored_from = given.basis
     from unnest($1::text[], $2::text[], $3::text[]) as given(unit, version, basis)
     where vehicles.unit = given.unit
       and vehicles.records_version = coalesce(given.version::bigint, vehicles.records_version)
     returning vehicles.id::text, vehicles.unit`,
    arrayText(units),
    ...columnArrays(BASIS, rows),
  )
  return { ids: held.map(({ id }) => id), units: new Set(held.map(({ unit }) => unit)) }
}

/** A row for every component whose advice, or whose chance by a tenth, is other than in its last row. */
async function noteHistory({ tx }: OrganisationScope, vehicleIds: string[], scoredAt: Date): Promise<void> {
  await tx.$executeRaw`
    insert into score_history (organisation_id, vehicle_id, weak_point, position, horizon_days, as_of, scored_at,
      p_fail, p_low, p_high, advice, library_version)
    select score.organisation_id, score.vehicle_id, score.weak_point, score.position, score.horizon_days, score.as_of,
      ${scoredAt}, score.p_fail, score.p_low, score.p_high, score.advice, score.library_version
    from component_scores score left join lateral (
      select p_fail, advice from score_history past
      where past.vehicle_id = score.vehicle_id and past.weak_point = score.weak_point
        and past.position = score.position and past.horizon_days = score.horizon_days
      order by past.scored_at desc limit 1) last on true
    where score.vehicle_id = any(${vehicleIds}::uuid[]) and score.horizon_days = ${HISTORY_HORIZON_DAYS}
      and (last.advice is distinct from score.advice
        or greatest(last.p_fail, score.p_fail) >= 1.1 * least(last.p_fail, score.p_fail))
    on conflict (organisation_id, vehicle_id, weak_point, position, horizon_days, scored_at) do update
      set p_fail = excluded.p_fail, p_low = excluded.p_low, p_high = excluded.p_high, advice = excluded.advice`
}

function vehicleRow(
  score: PutScore | FailedScore,
  horizonDays: number,
  asOf: Day,
  family: string,
  { library, libraryVersion, scoredAt, bases }: ScoresOrigin,
): VehicleScoreRow {
  const origin = {
    horizonDays,
    asOf,
    libraryVersion,
    recordsVersion: bases?.get(score.unit)?.recordsVersion ?? 0n,
    scoredAt,
    familyName: library.families.find(({ key }) => key === family)?.name ?? family,
  }
  if ('failure' in score)
    return { ...NOT_ASSESSED, ...origin, unit: score.unit, speaks: `could not be scored: ${score.failure}` }
  const { horizons, components, ...ofVehicle } = score
  const atHorizon = components.filter((component) => component.horizonDays === horizonDays)
  return {
    ...ofVehicle,
    ...origin,
    // What a look is worth and what a visit may do have no horizon: they are kept once.
    looks: horizonDays === HISTORY_HORIZON_DAYS ? ofVehicle.looks : null,
    visit: horizonDays === HISTORY_HORIZON_DAYS ? (ofVehicle.visit ?? null) : null,
    combined: horizons.find(({ days }) => days === horizonDays)?.combined ?? null,
    ...leadingComponent(atHorizon, family, library),
  }
}

/** The row of a vehicle of which nothing could be reckoned. */
const NOT_ASSESSED = {
  assessed: false,
  odometerKm: null,
  odometerReadOn: null,
  odometerEstimated: true,
  kmPerDay: null,
  standing: false,
  combined: null,
  advice: 'fine' as const,
  lastFullScanOn: null,
  lastLookedAtOn: null,
  weakPointsCovered: 0,
  looks: null,
  visit: null,
}

function componentRows(score: VehicleScore, asOf: Day, libraryVersion: number): ComponentScoreRow[] {
  return score.components.flatMap(({ horizonDays, horizonKm: _, ...component }) =>
    horizonDays === null ? [] : [{ ...component, horizonDays, asOf, libraryVersion }],
  )
}
