import type { AdviceGround } from '@/lib/decisions/advice'
import { type CallGround, callGround } from '@/lib/decisions/call-ground'
import { customerPrices, type LongRunRates, longRunRates, type Prices } from '@/lib/decisions/costs'
import type { Library } from '@/lib/records/library'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import type { CallVehicle } from '@/lib/store/read/call-vehicles'
import type { ScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { LastAsked } from './last-asked'
import type { Scorer } from './score-stale'
import { scorerOn } from './scorer-on'

/** A day's calls of some large organisations; each is a few numbers a job, and most vehicles have none. */
const MOST_KEPT = 20_000
const kept = new LastAsked<{ ground: CallGround | null }>(MOST_KEPT)

/** Works out what calls rest on, vehicle by vehicle, and keeps it as long as the vehicle's scores would rest on the same. */
export class CallGrounds {
  private constructor(
    private readonly scope: OrganisationScope,
    private readonly scorer: Scorer,
    private readonly prices: Prices,
    private readonly rates: LongRunRates,
  ) {}

  /** @param ground read in the same scope */
  static async on(scope: OrganisationScope, ground: ScoringGround, library: Library): Promise<CallGrounds> {
    const prices = customerPrices(library, ground.settings)
    return new CallGrounds(scope, await scorerOn(scope, ground), prices, longRunRates(prices))
  }

  /** @returns undefined where it has not been worked out yet; `ground` null for a vehicle that is not assessed */
  known(vehicle: CallVehicle): { ground: CallGround | null } | undefined {
    return kept.get(this.keyOf(vehicle))
  }

  async workOut(vehicle: CallVehicle): Promise<{ ground: CallGround | null }> {
    const known = this.known(vehicle)
    if (known) return known
    const found = await this.adviceGround(vehicle.unit)
    return kept.keep(this.keyOf(vehicle), {
      ground: found && callGround(found.ground, found.records),
    })
  }

  /** What decisions about a vehicle are made on at its customer's prices, and its records. */
  async adviceGround(unit: string): Promise<{ ground: AdviceGround; records: VehicleRecords } | null> {
    const ready = await this.scorer.readyVehicle(this.scope, unit)
    const ground = ready && this.scorer.scorers.inForce.groundOf(ready)
    return ground && { ground: { ...ground, prices: this.prices, rates: this.rates }, records: ready.records }
  }

  private keyOf({ unit, basis }: CallVehicle): string {
    return JSON.stringify([this.scope.organisation, unit, basis])
  }
}
