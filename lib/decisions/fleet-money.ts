/** What a whole fleet is to expect of the coming quarter, and what each way of dealing with a weak point would cost. */
import type { Clock } from '@/lib/records/library'
import type { AdviceGround } from './advice'
import { type FleetQuarter, fleetQuarter, type QuarterVehicle, quarterVehicle } from './fleet-quarter'
import { type PolicyOutcome, weighPolicies } from './policies'
import { type LooksPerYear, PolicyGathering } from './policy-ground'
import { type SimulatedPolicy, simulatePolicies } from './simulate-policies'

export interface PointPolicies {
  family: string
  weakPoint: string
  clock: Clock
  vehicles: number
  parts: number
  /** In the long run; null where the job has no price, or its life is out of range. */
  longRun: PolicyOutcome[] | null
  bestIsFailure: boolean
  /** Over the coming years, lived through on the parts as they are; null as above. */
  comingYears: SimulatedPolicy[] | null
}

export interface FleetMoney {
  quarter: FleetQuarter
  /** Years that were lived through. */
  years: number
  policies: PointPolicies[]
}

const YEARS = 5
const ROUNDS = 30
const SEED = 20_261
/** Between two weak points the one who asked may let others have their turn. */
type Turn = () => Promise<void>

/** Gathers a fleet vehicle by vehicle, then tells of all of it. */
export class FleetMoneyGathering {
  private readonly vehicles: QuarterVehicle[] = []
  private readonly policies: PolicyGathering

  constructor(looks: LooksPerYear) {
    this.policies = new PolicyGathering(looks)
  }

  add(ground: AdviceGround, of: { family: string; site: string | null }): void {
    this.vehicles.push(quarterVehicle(ground, of))
    this.policies.add(of.family, ground)
  }

  async told(turn: Turn = async () => {}): Promise<FleetMoney> {
    const quarter = fleetQuarter(this.vehicles)
    const policies: PointPolicies[] = []
    for (const { family, weakPoint, vehicles, parts, ground, now } of this.policies.gathered()) {
      await turn()
      const weighed = weighPolicies(ground)
      const terms = { years: YEARS, rounds: ROUNDS, seed: SEED, parts }
      policies.push({
        ...{ family, weakPoint: weakPoint.key, clock: weakPoint.clock, vehicles, parts },
        longRun: weighed.ok ? weighed.outcomes.map(finite) : null,
        bestIsFailure: weighed.ok && weighed.bestIsFailure,
        comingYears: weighed.ok ? simulatePolicies(ground, now, terms) : null,
      })
    }
    return { quarter, years: YEARS, policies }
  }
}

/** An interval that never comes is none. */
const finite = (outcome: PolicyOutcome): PolicyOutcome => ({
  ...outcome,
  interval: outcome.interval !== null && Number.isFinite(outcome.interval) ? outcome.interval : null,
})
