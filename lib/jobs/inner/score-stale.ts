import { setImmediate as nextTurn } from 'node:timers/promises'
import type { AdviceGround } from '@/lib/decisions/advice'
import { type ComponentScore, isScored, type VehicleScore, VehicleScorer } from '@/lib/decisions/score-fleet'
import { visitChoice } from '@/lib/decisions/visit-choice'
import type { Scorers } from '@/lib/decisions/why-chance'
import { errorDetails } from '@/lib/log/error-details.mjs'
import { logEvent } from '@/lib/log/log-event.mjs'
import type { Library } from '@/lib/records/library'
import { parsedLibrary } from '@/lib/records/parsed-library'
import { type ClassRate, classRates, usageFacts } from '@/lib/records/usage'
import { groupByVehicle, type VehicleRecords } from '@/lib/records/vehicle-records'
import type { Horizon } from '@/lib/scoring/ahead'
import type { FleetFit } from '@/lib/scoring/family-fit'
import { type FleetVehicle, odometerOf } from '@/lib/scoring/fleet-vehicles'
import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'
import { readClassRate } from '@/lib/store/read/class-rate'
import type { StoredFit } from '@/lib/store/read/fit-in-force'
import { readRecords } from '@/lib/store/read/records'
import type { ScoringGround } from '@/lib/store/read/scoring-ground'
import type { StaleVehicle } from '@/lib/store/read/stale-vehicles'
import { readStaleUsage, readUsageFacts, type StaleUsage } from '@/lib/store/read/usage-facts'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { noteUsageFacts, replaceClassRates } from '@/lib/store/write/note-usage'
import { raiseStops } from '@/lib/store/write/raise-stops'
import { type FailedScore, type PutScore, replaceScores } from '@/lib/store/write/replace-scores'
import { knownFit } from '../known-fit'

/** Scores vehicles on one ground, and keeps what it has compiled for the next ones. */
export class Scorer {
  private readonly library: Library
  private readonly vehicles: VehicleScorer
  private stated: VehicleScorer | null = null
  /** What was learned; null where nothing was. */
  readonly fit: FleetFit | null

  /** @param fit what the ground's fit holds */
  constructor(
    readonly ground: ScoringGround,
    fit: StoredFit | null,
  ) {
    const parsed = parsedLibrary(ground.library.content)
    if (!parsed.ok) throw new Error(`The library in force is not valid: ${parsed.errors[0]?.message}`)
    this.library = parsed.library
    this.fit = knownFit(fit, parsed.library)
    this.vehicles = this.scorerUnder(this.fit)
  }

  private scorerUnder(fit: FleetFit | null): VehicleScorer {
    const { settings, asOf } = this.ground
    const horizons = STORED_HORIZONS_DAYS.map((days) => ({ days }))
    return new VehicleScorer({ library: this.library, settings, asOf, fit, horizons })
  }

  /** Who scores on this ground, and who would if nothing had been learned. */
  get scorers(): Scorers {
    this.stated ??= this.fit === null ? this.vehicles : this.scorerUnder(null)
    return { inForce: this.vehicles, stated: this.stated }
  }

  /** One vehicle's scores for any horizons, which are not kept; none for a vehicle that is not or cannot be scored. */
  async scoreAt(
    scope: OrganisationScope,
    unit: string,
    horizons: readonly Horizon[],
  ): Promise<ComponentScore[]> {
    const [records, classRate] = [await readRecords(scope, [unit]), await readClassRate(scope, unit)]
    const [vehicle] = groupByVehicle(records)
    if (!vehicle) return []
    const scored = trying(scope, () => {
      const ready = this.ready(vehicle, classRate)
      return ready && this.vehicles.score(ready, horizons)
    })
    return scored.ok ? (scored.value?.components ?? []) : []
  }

  /** One vehicle with what scoring it needs; null for one that is not or cannot be scored. */
  async readyVehicle(scope: OrganisationScope, unit: string): Promise<FleetVehicle | null> {
    const [records, classRate] = [await readRecords(scope, [unit]), await readClassRate(scope, unit)]
    const [vehicle] = groupByVehicle(records)
    const ready = trying(scope, () => (vehicle ? this.ready(vehicle, classRate) : null))
    return ready.ok ? ready.value : null
  }

  /** What decisions about one vehicle are made on; null for one that is not or cannot be scored. */
  async groundOf(scope: OrganisationScope, unit: string): Promise<AdviceGround | null> {
    const ready = await this.readyVehicle(scope, unit)
    const ground = trying(scope, () => ready && this.vehicles.groundOf(ready))
    return ground.ok ? ground.value : null
  }

  /** The same from records that need not be in the store; null for a vehicle that is not or cannot be scored. */
  groundFrom(
    scope: Pick<OrganisationScope, 'organisation'>,
    records: VehicleRecords,
    classRate: ClassRate | null,
  ): AdviceGround | null {
    const ground = trying(scope, () => {
      const ready = this.ready(records, classRate)
      return ready && this.vehicles.groundOf(ready)
    })
    return ground.ok ? ground.value : null
  }

  /**
   * Scores vehicles from their records and puts the scores in the place of the earlier ones. One that cannot be scored
   * says why instead, until something changes that its score would rest on; the others do not wait for it.
   *
   * @returns the scores that were put; without a vehicle that is not scored, or whose records have changed meanwhile
   */
  async score(scope: OrganisationScope, stale: StaleVehicle[], now: Date): Promise<VehicleScore[]> {
    const { asOf, library } = this.ground
    const bases = new Map(stale.map((each) => [each.unit, each]))
    const records = await readRecords(scope, [...bases.keys()])
    const vehicles: (PutScore | FailedScore)[] = []
    for (const one of groupByVehicle(records)) {
      const { unit } = one.vehicle
      const scored = trying(scope, () => this.scoreOne(one, bases.get(unit)?.classRate ?? null))
      if (scored.ok && scored.value !== null) vehicles.push(scored.value)
      if (!scored.ok) vehicles.push({ unit, failure: scored.reason })
      await nextTurn() // whoever shares the process has its turn between two vehicles
    }
    const origin = { library: this.library, libraryVersion: library.version, scoredAt: now, bases }
    const put = await replaceScores(scope, { asOf, vehicles }, { ...origin, vehicles: records.vehicles })
    const stopped = put.filter(({ components }) => components.some(({ advice }) => advice === 'stop'))
    if (stopped.length > 0)
      await raiseStops(
        scope,
        now,
        stopped.map(({ unit }) => unit),
      )
    return put
  }

  /** @returns null for a vehicle that is not scored */
  private scoreOne(one: VehicleRecords, classRate: ClassRate | null): PutScore | null {
    const ready = this.ready(one, classRate)
    if (!ready) return null
    const { score, ground } = this.vehicles.scoreOnGround(ready)
    return { ...score, visit: visitChoice(ground) }
  }

  private ready(records: VehicleRecords, classRate: ClassRate | null): FleetVehicle | null {
    const odometer = odometerOf(records, this.ground.asOf)
    if (!classRate || !isScored(records, odometer, this.ground.asOf)) return null
    return { records, odometer, classRate }
  }
}

/**
 * Reckons something of one vehicle. What it throws is a fault of ours: the log tells the place of it, and the vehicle's
 * own page the reason, for its number may be its plate, which no log is to have.
 */
export function trying<Value>(
  { organisation }: Pick<OrganisationScope, 'organisation'>,
  reckon: () => Value,
): { ok: true; value: Value } | { ok: false; reason: string } {
  try {
    return { ok: true, value: reckon() }
  } catch (error) {
    const reason = (error instanceof Error ? error.message : String(error)).slice(0, LONGEST_REASON)
    logEvent('vehicle not scored', { organisation, ...errorDetails(error) })
    return { ok: false, reason }
  }
}

const LONGEST_REASON = 200

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
  const noted = groupByVehicle(records).map((one) => {
    const { unit } = one.vehicle
    const facts = trying(scope, () => usageFacts(one.vehicle, odometerOf(one, asOf), asOf))
    return { unit, recordsVersion: versions.get(unit) ?? 0n, facts: facts.ok ? facts.value : null }
  })
  await noteUsageFacts(scope, asOf, noted)
  const [left] = await readStaleUsage(scope, asOf, 1)
  if (!left) await replaceClassRates(scope, asOf, classRates(await readUsageFacts(scope)))
}
