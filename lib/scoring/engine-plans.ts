/** Engine families compiled for the vehicles of a fleet, each way of compiling once. */
import { isKnownBy } from '@/lib/records/known-by'
import type { Family } from '@/lib/records/library'
import type { SignAt } from '@/lib/records/rows'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import type { Day } from '@/lib/units/dates'
import { compileEngine, type EnginePlan } from './engine-plan'
import type { FleetFit } from './family-fit'
import { withRates } from './sign-rates'

/** As a library states the signs: compiled once for a family, whatever the day. */
const asStated = new WeakMap<Family, Map<string, EnginePlan>>()

export class EnginePlans {
  private readonly learned = new Map<string, EnginePlan>()

  /**
   * @param asOf sightings recorded later do not count
   * @param fit what was learned of how often signs are seen; without it, as the library states
   */
  constructor(
    private readonly asOf: Day,
    private readonly fit: Pick<FleetFit, 'families'> | null = null,
  ) {}

  of(family: Family, { vehicle, codes, checks }: VehicleRecords): EnginePlan {
    const { asOf } = this
    const plan = this.compiled(family, vehicle.variant, false)
    const isUnion = (at: SignAt | null) => {
      const sign = at && plan.sighting(at.sign, at.position)
      return sign !== null && plan.signs[sign]!.members.length > 0
    }
    // Only a sighting that stands for several signs ties their causes together.
    const joinUnions =
      checks.some((row) => isKnownBy(asOf, row.checkedOn, row.enteredOn) && row.seen.some(isUnion)) ||
      codes.some((row) => isKnownBy(asOf, row.seenOn, row.enteredOn) && isUnion(plan.signOfCode(row.code)))
    return joinUnions ? this.compiled(family, vehicle.variant, true) : plan
  }

  private compiled(family: Family, variant: string | null, joinUnions: boolean): EnginePlan {
    const rates = this.fit?.families.get(family.key)?.signs
    const plans = rates ? this.learned : (asStated.get(family) ?? new Map<string, EnginePlan>())
    if (!rates) asStated.set(family, plans)
    const key = JSON.stringify([family.key, variant, joinUnions])
    const known = plans.get(key)
    if (known) return known
    const plan = compileEngine(rates ? withRates(family, rates) : family, variant, joinUnions)
    plans.set(key, plan)
    return plan
  }
}
