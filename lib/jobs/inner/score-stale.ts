import { setImmediate as nextTurn } from 'node:timers/promises'
import {
  type ComponentScore,
  isScored,
  odometerOf,
  type VehicleScore,
  VehicleScorer,
} from '@/lib/decisions/score-fleet'
import { type Library, parseLibrary } from '@/lib/records/library'
import { classRates, usageFacts } from '@/lib/records/usage'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import type { Horizon } from '@/lib/scoring/ahead'
import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'
import { readClassRate } from '@/lib/store/read/class-rate'
import { readRecords } from '@/lib/store/read/records'
import type { ScoringGround } from '@/lib/store/read/scoring-ground'
import type { StaleVehicle } from '@/lib/store/read/stale-vehicles'
import { readStaleUsage, readUsageFacts, type StaleUsage } from '@/lib/store/read/usage-facts'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { noteUsageFacts, replaceClassRates } from '@/lib/store/write/note-usage'
import { raiseStops } from '@/lib/store/write/raise-stops'
import { replaceScores } from '@/lib/store/write/replace-scores'

/** Scores vehicles on one ground, and keeps what it has compiled for the next ones. */
export class Scorer {
  private readonly library: Library
  private readonly vehicles: VehicleScorer

  constructor(readonly ground: ScoringGround) {
    const parsed = parseLibrary(ground.library.content)
    if (!parsed.ok) throw new Error(`The library in force is not valid: ${parsed.errors[0]?.message}`)
    this.library = parsed.library
    this.vehicles = new VehicleScorer({
      library: parsed.library,
      settings: ground.settings,
      asOf: ground.asOf,
      horizons: STORED_HORIZONS_DAYS.map((days) => ({ days })),
    })
  }

  /** One vehicle's scores for any horizons, which are not kept; none for a vehicle that is not scored. */
  async scoreAt(
    scope: OrganisationScope,
    unit: string,
    horizons: readonly Horizon[],
  ): Promise<ComponentScore[]> {
    const [records, classRate] = [await readRecords(scope, [unit]), await readClassRate(scope, unit)]
    const [vehicle] = groupByVehicle(records)
    if (!vehicle || !classRate) return []
    const odometer = odometerOf(vehicle, this.ground.asOf)
    if (!isScored(vehicle, odometer, this.ground.asOf)) return []
    return this.vehicles.score(vehicle, odometer, classRate, horizons).components
  }

  /** Scores vehicles from their records and puts the scores in the place of the earlier ones. */
  async score(scope: OrganisationScope, stale: StaleVehicle[], now: Date): Promise<void> {
    const { asOf, library } = this.ground
    const bases = new Map(stale.map((each) => [each.unit, each]))
    const records = await readRecords(scope, [...bases.keys()])
    const vehicles: VehicleScore[] = []
    for (const one of groupByVehicle(records)) {
      const classRate = bases.get(one.vehicle.unit)?.classRate
      const odometer = odometerOf(one, asOf)
      if (!classRate || !isScored(one, odometer, asOf)) continue
      vehicles.push(this.vehicles.score(one, odometer, classRate))
      await nextTurn() // whoever shares the process has its turn between two vehicles
    }
    const origin = { library: this.library, libraryVersion: library.version, scoredAt: now, bases }
    await replaceScores(scope, { asOf, vehicles }, { ...origin, vehicles: records.vehicles })
    await raiseStops(scope, now, [...bases.keys()])
  }
}

/**
 * Finds out what vehicles tell of how their class is used; with the last of them the rates of all classes are
 * reckoned anew, so that whenever none is stale the rates are those of all.
 */
export async function freshenUsage(
  scope: OrganisationScope,
  { asOf }: ScoringGround,
  stale: StaleUsage[],
): Promise<void> {
  const versions = new Map(stale.map(({ unit, recordsVersion }) => [unit, recordsVersion]))
  const records = await readRecords(scope, [...versions.keys()])
  const noted = groupByVehicle(records).map((one) => ({
    unit: one.vehicle.unit,
    recordsVersion: versions.get(one.vehicle.unit) ?? 0n,
    facts: usageFacts(one.vehicle, odometerOf(one, asOf), asOf),
  }))
  await noteUsageFacts(scope, asOf, noted)
  const [left] = await readStaleUsage(scope, asOf, 1)
  if (!left) await replaceClassRates(scope, asOf, classRates(await readUsageFacts(scope)))
}
