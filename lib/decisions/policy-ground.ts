/** What the policies for one weak point are weighed on: its life, its price, the parts that are in use, and who looks at them. */
import type { LifeParameters, LifeTables } from '@/lib/model/life-table'
import type { Strands } from '@/lib/model/strands'
import type { WeakPoint } from '@/lib/records/library'
import type { CheckRow } from '@/lib/records/rows'
import { meanAhead } from '@/lib/scoring/ahead'
import type { Day } from '@/lib/units/dates'
import type { AdviceGround } from './advice'
import { type JobCost, jobCost } from './costs'
import { renewalAge } from './intervals'

/** P(a sign of the part is seen within one slot), by what state it is in. */
export interface Shown {
  developing: number
  sound: number
}

/** Parts of one weak point that age alike. Clock units are km, hours or days. */
export interface PolicyUse {
  /** Effective units a clock unit. */
  ageing: number
  parts: number
  /** What all these parts' clocks add in a year. */
  unitsPerYear: number
}

export interface PolicyGround {
  /** The original part's life: every node, and the central one that decisions go by. */
  nodes: LifeTables
  central: LifeTables
  centralLife: LifeParameters
  cost: JobCost
  success: number
  /** In clock units; null where none is stated. */
  interval: number | null
  uses: readonly PolicyUse[]
  slotDays: number
  shown: Shown
}

/** A part as it is believed to be now. */
export interface PartNow {
  nodes: Strands
  central: Strands
  failed: boolean
  /** Clock units since it was last renewed. */
  ran: number
  ageing: number
  /** Effective units in a slot. */
  slot: number
}

/** How often a vehicle is looked at in a year, by kind of look. */
export type LooksPerYear = ReadonlyMap<CheckRow['kind'], number>

const DAYS_PER_YEAR = 365.25

/** What one vehicle was looked at in the year before a day, on the mean over all. */
export function looksPerYear(
  fleet: readonly { records: { checks: readonly CheckRow[] } }[],
  asOf: Day,
): LooksPerYear {
  const looks = new Map<CheckRow['kind'], number>()
  for (const { records } of fleet) {
    for (const { kind, checkedOn } of records.checks) {
      if (checkedOn > asOf - DAYS_PER_YEAR && checkedOn <= asOf)
        looks.set(kind, (looks.get(kind) ?? 0) + 1 / fleet.length)
    }
  }
  return looks
}

/** One weak point of an engine, over all vehicles. */
export interface PointGathered {
  family: string
  weakPoint: WeakPoint
  vehicles: number
  parts: number
  ground: PolicyGround
  /** Some of the parts, evenly taken, where there are too many to live through them all. */
  now: PartNow[]
}

/** So many parts of a weak point are lived through at most. */
const MOST_PARTS = 120

/** Gathers the parts in use, vehicle by vehicle. */
export class PolicyGathering {
  private readonly points = new Map<string, PointGathered & { uses: PolicyUse[]; every: number }>()

  constructor(private readonly looks: LooksPerYear) {}

  add(family: string, ground: AdviceGround): void {
    const { belief } = ground.vehicle
    const ahead = meanAhead(ground.clock, { days: DAYS_PER_YEAR })
    const seen = new Set<string>()
    belief.beliefs.forEach((state, c) => {
      const { weakPoint } = state.component
      const key = JSON.stringify([family, weakPoint.key])
      const point = this.points.get(key) ?? this.begin(family, ground, c)
      this.points.set(key, point)
      if (!seen.has(key)) point.vehicles++
      seen.add(key)
      const units = ahead[weakPoint.clock]
      const use = point.uses.find(({ ageing }) => ageing === state.duty)
      if (use) {
        use.parts++
        use.unitsPerYear += units
      } else point.uses.push({ ageing: state.duty, parts: 1, unitsPerYear: units })
      if (point.parts++ % point.every === 0) {
        point.now.push({
          ...{ nodes: state.currentNodes(), central: state.central, failed: state.failed },
          ...{ ran: renewalAge(belief, c), ageing: state.duty },
          slot: (units * state.duty * ground.prices.slotDays) / DAYS_PER_YEAR,
        })
        thinOut(point)
      }
    })
  }

  gathered(): PointGathered[] {
    return [...this.points.values()].map(({ uses: _, every: __, ...point }) => point)
  }

  private begin(family: string, { parameters, prices, vehicle }: AdviceGround, c: number) {
    const { weakPoint } = vehicle.belief.beliefs[c]!.component
    const { nodes, central } = parameters.of(weakPoint, null, null)
    const uses: PolicyUse[] = []
    const ground: PolicyGround = {
      ...{ nodes, central, centralLife: parameters.original(weakPoint, null) },
      ...{ cost: jobCost(weakPoint, prices), success: weakPoint.success, interval: weakPoint.renewEvery },
      ...{ uses, slotDays: prices.slotDays, shown: this.shownOf(vehicle.belief.plan, c, prices.slotDays) },
    }
    return { family, weakPoint, vehicles: 0, parts: 0, ground, now: [], uses, every: 1 }
  }

  /** Looks come by chance, as often as in the past year; each shows the signs that its kind looks for. */
  private shownOf(plan: AdviceGround['vehicle']['belief']['plan'], c: number, slotDays: number): Shown {
    let [developing, sound] = [1, 1]
    for (const [kind, perYear] of this.looks) {
      let [hides, silent] = [1, 1]
      for (const index of plan.lookedForBy[kind] ?? []) {
        const { leak, causes } = plan.signs[index]!
        const cause = causes.find(({ component }) => component === c)
        if (!cause) continue
        hides *= (1 - leak) * (1 - cause.detect)
        silent *= 1 - leak
      }
      const looked = 1 - Math.exp((-perYear * slotDays) / DAYS_PER_YEAR)
      developing *= 1 - looked * (1 - hides)
      sound *= 1 - looked * (1 - silent)
    }
    return { developing: 1 - developing, sound: 1 - sound }
  }
}

/** Every second of them goes, and from now on half as many come in. */
function thinOut(point: { now: PartNow[]; every: number }): void {
  if (point.now.length <= MOST_PARTS) return
  point.now = point.now.filter((_, i) => i % 2 === 0)
  point.every *= 2
}
