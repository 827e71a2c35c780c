/** The lives of parts that a workshop put in: how far each went, whether it went, and how likely it was to by then. */
import { cumulativeOnset, type LifeTables } from '@/lib/model/life-table'
import { weightedQuantiles } from '@/lib/model/outlook'
import type { Family, WeakPoint } from '@/lib/records/library'
import type { RepairRow } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import { EnginePlans } from './engine-plans'
import type { FleetFit } from './family-fit'
import { followable } from './fit-fleet'
import type { FleetVehicle } from './fleet-vehicles'
import { livesOf } from './follow-vehicle'
import type { LookedAtLife } from './life-log'
import { learnedParameters, type Parameters, statedParameters } from './parameters'

/** The life of a part that was put in by a repair. */
export interface RenewedLife {
  unit: string
  family: string
  weakPoint: WeakPoint
  position: number
  /** The repair that put it in. */
  repair: RepairRow
  /** It failed, or was found going; it runs; or it was taken out good, in no state that anybody noted, or lost from sight. */
  end: 'gone' | 'running' | 'other'
  /** How far it went, in effective units of the weak point's clock. */
  age: number
  /** The repair that took it out; null where none did. */
  endedBy: RepairRow | null
  /**
   * The chance that a part of its kind has begun to go by when it could last have been seen to: where it went, until the
   * end of the records, as if no other had taken its place. By even shares of the lives that are thought possible, the
   * longest lives first.
   */
  goneBy: number[]
}

/** So many even shares of the lives that are thought possible. */
export const POSSIBLE_LIVES = 10
const LEVELS = Array.from({ length: POSSIBLE_LIVES }, (_, i) => (i + 0.5) / POSSIBLE_LIVES)

/** Finds the lives of renewed parts, vehicle by vehicle, under what was learned; under the library where nothing was. */
export class RenewedLives {
  private readonly plans: EnginePlans
  private readonly known = new Map<Family, { central: Parameters; spread: Parameters }>()

  constructor(
    private readonly families: ReadonlyMap<string, Family>,
    private readonly fit: FleetFit | null,
    private readonly asOf: Day,
  ) {
    this.plans = new EnginePlans(asOf, fit)
  }

  /** None for a vehicle whose engine the library does not have. */
  of(vehicle: FleetVehicle): RenewedLife[] {
    const family = this.families.get(vehicle.records.vehicle.family)
    if (!family) return []
    const { input, seenUntil } = followable(vehicle, this.asOf)
    const plan = this.plans.of(family, input.records)
    const { central, spread } = this.parametersOf(family)
    const { lookedAt } = livesOf({ ...input, plan, parameters: central }, seenUntil)
    const { unit, variant, status } = input.records.vehicle
    const runs = (status === 'active' || status === 'stock') && seenUntil === this.asOf
    return plan.components.flatMap(({ weakPoint, position }, c) => {
      const own = lookedAt.filter((life) => life.component === c)
      return own.flatMap((life, i) => {
        if (!life.renewedBy || !life.lived) return []
        const later = own.slice(i + 1)
        const end = endOf(life, { isLast: later.length === 0, runs })
        const age = life.lived.ending.age
        const until = end === 'gone' ? later.reduce((sum, next) => sum + wentFor(next), age) : age
        const { nodes } = spread.of(weakPoint, life.revision, variant)
        return {
          ...{ unit, family: family.key, weakPoint, position, repair: life.renewedBy, end, age },
          endedBy: later[0]?.renewedBy ?? null,
          goneBy: goneBy(nodes, until, life.lived.developing),
        }
      })
    })
  }

  private parametersOf(family: Family) {
    const fit = this.fit?.families.get(family.key)
    const found = this.known.get(family) ?? {
      central: fit ? learnedParameters(family, fit, 'central') : statedParameters(family, 'central'),
      spread: fit ? learnedParameters(family, fit) : statedParameters(family),
    }
    this.known.set(family, found)
    return found
  }
}

const wentFor = ({ lived }: LookedAtLife): number => (lived ? lived.ending.age - lived.startAge : 0)

const GONE = ['failed', 'failed-since', 'developing', 'noticed']

function endOf(
  { lived }: LookedAtLife,
  { isLast, runs }: { isLast: boolean; runs: boolean },
): RenewedLife['end'] {
  if (!lived) return 'other'
  const { ending, looks } = lived
  if (GONE.includes(ending.kind) || looks.some(({ odds }) => odds === Number.POSITIVE_INFINITY)) return 'gone'
  return isLast && runs && ending.kind === 'open' && !ending.renewed ? 'running' : 'other'
}

/** 1 − (1 − π)·S_U(age) at even shares of the nodes: what has gone was among what had begun to. */
function goneBy(nodes: LifeTables, age: number, developing: number): number[] {
  const gone = new Float64Array(nodes.count)
  for (let k = 0; k < nodes.count; k++) {
    const onset = age > 0 ? cumulativeOnset(nodes, k, Math.log(age)) : 0
    gone[k] = 1 - (1 - developing) * Math.exp(-onset)
  }
  return weightedQuantiles(gone, nodes.weight, LEVELS)
}
