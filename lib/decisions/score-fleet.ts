/** Records and a library in, every component's chance, cost of waiting and advice out. */
import type { Family, Library } from '@/lib/records/library'
import type { Records } from '@/lib/records/rows'
import type { Settings } from '@/lib/records/settings'
import type { Odometer } from '@/lib/records/trusted-odometer'
import type { VehicleClock } from '@/lib/records/vehicle-clock'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import type { Horizon } from '@/lib/scoring/ahead'
import { EnginePlans } from '@/lib/scoring/engine-plans'
import type { FleetFit } from '@/lib/scoring/family-fit'
import { clockOf, type FleetVehicle, fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import { type FollowedVehicle, followVehicle } from '@/lib/scoring/follow-vehicle'
import { learnedParameters, type Parameters, type Spread, statedParameters } from '@/lib/scoring/parameters'
import {
  chanceDeveloping,
  chancesWithin,
  type HorizonChances,
  plainChancesWithin,
  remainingKm,
} from '@/lib/scoring/score-components'
import { lastRecordOn, watchOf } from '@/lib/scoring/watch'
import type { FollowInput } from '@/lib/scoring/way'
import type { Day } from '@/lib/units/dates'
import { ADVICE, type Advice, type AdviceGround, adviseVehicle, jobsAdvised } from './advice'
import { type LongRunRates, longRunRates, type Prices, pricesOf } from './costs'
import { whatSpeaks, whatWasSeen } from './reasons'
import { type ScoredLooks, scoredLooks } from './scored-looks'

export interface ComponentScore {
  unit: string
  weakPoint: string
  position: number
  asOf: Day
  horizonDays: number | null
  horizonKm: number | null
  pFail: number
  pLow: number
  pHigh: number
  pDeveloping: number
  remainingKmP50: number | null
  costOfWaiting: number
  /** The 80 % band of it; told where waiting costs something. */
  waitingLow: number | null
  waitingHigh: number | null
  advice: Advice
  speaks: string
}

export interface VehicleScore {
  unit: string
  /** False where the library does not know the engine. */
  assessed: boolean
  odometerKm: number
  odometerReadOn: Day | null
  odometerEstimated: boolean
  kmPerDay: number
  standing: boolean
  horizons: { days: number | null; km: number | null; combined: number }[]
  advice: Advice
  lastFullScanOn: Day | null
  lastLookedAtOn: Day | null
  weakPointsCovered: number
  /** What looking at it is worth; null where it is not assessed. */
  looks: ScoredLooks | null
  /** One a component and horizon. */
  components: ComponentScore[]
}

export interface FleetScores {
  asOf: Day
  vehicles: VehicleScore[]
}

export interface ScoreInput {
  records: Records
  /** The records' vehicles, where they were prepared already. */
  fleet?: readonly FleetVehicle[]
  library: Library
  asOf: Day
  horizons: readonly Horizon[]
  /** What was learned; without it, the library's statement. */
  fit?: FleetFit | null
  spread?: Spread
  onProgress?: (done: number, total: number) => void
}

const PROGRESS_EVERY = 100

/** Scores every vehicle that is active, in stock, or sold and under cover on the as-of date. */
export function scoreFleet(input: ScoreInput): FleetScores {
  const { records, asOf, onProgress, fleet = fleetVehicles(records, asOf) } = input
  const scorer = new VehicleScorer({ ...input, settings: records.settings })
  const scored = fleet.filter((one) => isScored(one.records, one.odometer, asOf))
  const vehicles = scored.map((one, i) => {
    if (i % PROGRESS_EVERY === 0) onProgress?.(i, scored.length)
    return scorer.score(one)
  })
  onProgress?.(scored.length, scored.length)
  return { asOf, vehicles }
}

/** Whether a vehicle is active, in stock, or sold and under cover on a day. */
export function isScored(records: VehicleRecords, odometer: Odometer, asOf: Day): boolean {
  const { status, soldOn, leftOn, coverUntilOn, coverUntilKm } = records.vehicle
  if (status === 'active' || status === 'stock') return true
  const gone = soldOn ?? leftOn ?? lastRecordOn(records)
  // On an as-of date before it left, the vehicle was still there.
  if (gone !== null && gone > asOf) return true
  if (status !== 'sold' || (coverUntilOn === null && coverUntilKm === null)) return false
  const km = odometer.trusted.km.at(-1) ?? 0
  return (coverUntilOn === null || coverUntilOn >= asOf) && (coverUntilKm === null || km <= coverUntilKm)
}

export interface VehicleChances {
  components: { weakPoint: string; position: number; pFail: number }[]
  advised: () => boolean[]
  /** The sign that speaks for a component, by its place in the list; null where none does. */
  seen: (component: number) => string | null
}

/** What of a vehicle's records can be told or kept back while its clocks and its watch stay as they are. */
export type Told = Pick<VehicleRecords, 'codes' | 'checks' | 'repairs'>

/** What vehicles are scored by, whichever they are. */
export type ScoringTerms = Pick<ScoreInput, 'library' | 'asOf' | 'horizons' | 'fit' | 'spread'> & {
  settings: Settings
  /** How a vehicle is followed, where it is not from its first day. */
  follow?: (input: FollowInput) => FollowedVehicle
}

/** Scores one vehicle after the other on the same terms. */
export class VehicleScorer {
  private readonly families: Map<string, Family>
  private readonly plans: EnginePlans
  private readonly parameters = new Map<string, Parameters>()
  private readonly prices: Prices
  private readonly rates: LongRunRates
  private readonly settings: Settings

  constructor(private readonly input: ScoringTerms) {
    this.families = new Map(input.library.families.map((f) => [f.key, f]))
    this.plans = new EnginePlans(input.asOf, input.fit)
    this.settings = input.settings
    this.prices = pricesOf(input.library, this.settings)
    this.rates = longRunRates(this.prices)
  }

  /** @param horizons other than the terms name */
  score(one: FleetVehicle, horizons: readonly Horizon[] = this.input.horizons): VehicleScore {
    return this.scoreOnGround(one, horizons).score
  }

  /** A vehicle's score, and what decisions about it are made on: null where the library does not know the engine. */
  scoreOnGround(
    one: FleetVehicle,
    horizons: readonly Horizon[] = this.input.horizons,
  ): { score: VehicleScore; ground: AdviceGround | null } {
    const { vehicle } = one.records
    const { clock, usage, known } = this.follow(one)
    const facts = {
      unit: vehicle.unit,
      odometerKm: clock.kmAt(this.input.asOf),
      odometerReadOn: clock.lastTrusted?.day ?? null,
      odometerEstimated: clock.estimatedOn(this.input.asOf),
      kmPerDay: usage.kmPerDay,
      standing: usage.standing,
    }
    if (!known) return { score: { ...facts, ...NOT_ASSESSED }, ground: null }
    const ground = this.groundFrom(known, clock)
    return { score: { ...facts, assessed: true, ...this.judge(vehicle.unit, ground, horizons) }, ground }
  }

  /** The day as of which it scores. */
  get asOf(): Day {
    return this.input.asOf
  }

  /**
   * The chances of one vehicle's components alone; `advised` answers which of them would be done now.
   *
   * @param told what it is followed through; clocks and watch are always those of all its records
   */
  chances(one: FleetVehicle, horizon: Horizon, told: Told = one.records): VehicleChances {
    const ground = this.groundOf(one, told)
    if (!ground) return { components: [], advised: () => [], seen: () => null }
    const { vehicle, clock } = ground
    const chances = plainChancesWithin(vehicle.belief, clock, horizon)
    return {
      components: vehicle.belief.plan.components.map(({ weakPoint, position }, c) => ({
        weakPoint: weakPoint.key,
        position,
        pFail: chances[c]!,
      })),
      advised: () => jobsAdvised(ground),
      seen: (component) => whatWasSeen(vehicle, component),
    }
  }

  /**
   * What decisions about one vehicle are made on.
   *
   * @param told what it is followed through; clocks and watch are always those of all its records
   * @returns null where the library does not know the engine
   */
  groundOf(one: FleetVehicle, told: Told = one.records): AdviceGround | null {
    const { clock, known } = this.follow(one, told)
    return known && this.groundFrom(known, clock)
  }

  private groundFrom(known: Pick<AdviceGround, 'vehicle' | 'parameters'>, clock: VehicleClock): AdviceGround {
    const { settings, prices, rates } = this
    return { ...known, clock, settings, prices, rates }
  }

  /**
   * Follows a vehicle to the as-of date.
   *
   * @param told what it is followed through; clocks and watch are always those of all its records
   * @returns `known` null where the library does not know the engine
   */
  follow(one: FleetVehicle, { codes, checks, repairs }: Told = one.records) {
    const { asOf } = this.input
    const { records } = one
    const { usage, clock } = clockOf(one, asOf)
    const family = this.families.get(records.vehicle.family)
    if (!family) return { clock, usage, known: null }
    const plan = this.plans.of(family, records)
    const parameters = this.parametersOf(family)
    const watch = watchOf(records, clock, asOf)
    const told = { ...records, codes, checks, repairs }
    const { follow = followVehicle } = this.input
    const followed = follow({ records: told, plan, parameters, clock, watch, asOf })
    return { clock, usage, known: { vehicle: followed, parameters } }
  }

  private judge(unit: string, ground: AdviceGround, horizons: readonly Horizon[]) {
    const { vehicle, clock, settings } = ground
    const { belief } = vehicle
    const chances = horizons.map((horizon) => chancesWithin(belief, clock, horizon))
    const atAdvice = this.atAdviceHorizon(vehicle, clock, chances)
    const { components: decisions, looks } = adviseVehicle(ground, atAdvice.components)
    const components = belief.plan.components.flatMap(({ weakPoint, position }, c) => {
      const shared = {
        unit,
        weakPoint: weakPoint.key,
        position,
        asOf: this.input.asOf,
        pDeveloping: chanceDeveloping(belief, c),
        remainingKmP50: remainingKm(belief, clock, c),
        costOfWaiting: decisions[c]!.costOfWaiting,
        waitingLow: decisions[c]!.waitingBand?.low ?? null,
        waitingHigh: decisions[c]!.waitingBand?.high ?? null,
        advice: decisions[c]!.advice,
        speaks: whatSpeaks(vehicle, c, decisions[c]!.due),
      }
      return chances.map((at) => ({ ...shared, ...horizonOf(at.horizon), ...at.components[c]! }))
    })
    return {
      horizons: chances.map((at) => ({ ...inColumns(at.horizon), combined: at.combined })),
      advice: vehicleAdvice(
        decisions.map((d) => d.advice),
        atAdvice.combined > settings.watchLimit,
      ),
      lastFullScanOn: vehicle.lastFullScanOn,
      lastLookedAtOn: vehicle.lastLookedAtOn,
      weakPointsCovered: new Set(belief.plan.components.map((c) => c.weakPoint.key)).size,
      looks: scoredLooks(vehicle, looks),
      components,
    }
  }

  /** Advice is made at the organisation's fixed horizon, whatever the horizons asked for. */
  private atAdviceHorizon(
    vehicle: FollowedVehicle,
    clock: VehicleClock,
    chances: HorizonChances[],
  ): HorizonChances {
    const days = this.settings.adviceHorizonDays
    const asked = chances.find(({ horizon }) => 'days' in horizon && horizon.days === days)
    return asked ?? chancesWithin(vehicle.belief, clock, { days })
  }

  private parametersOf(family: Family): Parameters {
    const { fit, spread } = this.input
    const learned = fit?.families.get(family.key)
    const found =
      this.parameters.get(family.key) ??
      (learned ? learnedParameters(family, learned, spread) : statedParameters(family, spread))
    this.parameters.set(family.key, found)
    return found
  }
}

const NOT_ASSESSED = {
  assessed: false,
  horizons: [],
  advice: 'fine' as const,
  lastFullScanOn: null,
  lastLookedAtOn: null,
  weakPointsCovered: 0,
  looks: null,
  components: [],
}

const inColumns = (horizon: Horizon) =>
  'days' in horizon ? { days: horizon.days, km: null } : { days: null, km: horizon.km }

const horizonOf = (horizon: Horizon) => {
  const { days, km } = inColumns(horizon)
  return { horizonDays: days, horizonKm: km }
}

/** The most urgent of its components', or `watch` where only all of them together pass the limit. */
function vehicleAdvice(components: Advice[], together: boolean): Advice {
  const urgent = ADVICE.find((advice) => components.includes(advice)) ?? 'fine'
  return urgent === 'fine' && together ? 'watch' : urgent
}
