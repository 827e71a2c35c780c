/** Rewinds records to past dates, scores as was possible then, and judges by what happened. */
import { jobCost, type Prices, pricesOf } from '@/lib/decisions/costs'
import { VehicleScorer } from '@/lib/decisions/score-fleet'
import type { Family, Library, WeakPoint } from '@/lib/records/library'
import type { Records } from '@/lib/records/rows'
import type { FleetVehicle } from '@/lib/scoring/fleet-vehicles'
import { type Day, formatDay } from '@/lib/units/dates'
import { fleetOn, type VehicleThen } from './inner/fleet-clocks'
import {
  FORECASTERS,
  type Forecaster,
  type Judgement,
  judge,
  type ReplayCase,
  type Tally,
  tally,
} from './judge'
import { addMoney, type Money, moneySpent } from './money'
import { Hindsight, statedWarning, type WarningMean } from './outcomes'
import { type PlainForecasts, plainChances } from './plain-rivals'
import { recordsAsOf } from './records-as-of'

export interface ReplayPlan {
  /** The first cut-off, and the last day on which one may lie. */
  from: Day
  to: Day
  /** Days from one to the next. */
  every: number
  /** The horizon. */
  days: number
}

/** Who scores at a cut-off, given the vehicles as they were visible then. */
export type Learner = (fleet: readonly FleetVehicle[], cutOff: Day) => VehicleScorer

export interface ReplayInput {
  records: Records
  library: Library
  plan: ReplayPlan
  /** Left out: nothing is learned, and the product says what the library says. */
  learn?: Learner
  /** δ of each weak point, for parts that were opened before they could fail; left out: as stated. */
  warningMean?: WarningMean
  onProgress?: (done: number, total: number) => void
}

type Verdicts = { judgements: Record<Forecaster, Judgement>; money: Record<Forecaster, Money> }

/** What the product expected of one weak point, and what came. */
export type WeakPointTally = Tally & { family: string; weakPoint: string }

export interface Replay {
  from: string
  to: string
  every: number
  days: number
  learned: boolean
  cutOffs: ({ asOf: string } & Verdicts)[]
  /** Of all cut-offs together: failures that lie in several windows count in each. */
  overall: Verdicts & { weakPoints: WeakPointTally[] }
}

/** The days to which the records are rewound. */
export const cutOffsOf = ({ from, to, every }: ReplayPlan): Day[] =>
  Array.from({ length: Math.max(Math.floor((to - from) / every) + 1, 0) }, (_, k) => from + k * every)

/** The whole replay, one cut-off after the other. */
export function replay(input: ReplayInput): Replay {
  const days = cutOffsOf(input.plan)
  const past = new Past(input)
  const cases = days.map((cutOff, done) => {
    input.onProgress?.(done, days.length)
    return past.casesAt(cutOff)
  })
  input.onProgress?.(days.length, days.length)
  return judgeAll({ ...input, learning: input.learn !== undefined }, cases)
}

/** Records that can be rewound, with what happened afterwards. Cut-offs do not depend on one another. */
export class Past {
  private readonly hindsight: Hindsight
  private readonly prices: Prices

  constructor(private readonly input: ReplayInput) {
    this.prices = pricesOf(input.library, input.records.settings)
    this.hindsight = new Hindsight(input.records, input.warningMean ?? statedWarning)
  }

  /** Every component that was at work on the cut-off, with all chances and what happened. */
  casesAt(cutOff: Day): ReplayCase[] {
    const { records, library, plan, learn } = this.input
    const { settings } = records
    const fleet = fleetOn(recordsAsOf(records, cutOff), cutOff)
    const stated = new VehicleScorer({ library, asOf: cutOff, horizons: [{ days: plan.days }], settings })
    const scorer = learn?.(fleet, cutOff) ?? stated
    return library.families.flatMap((family) => {
      const ofFamily = fleet.filter(({ records: { vehicle } }) => vehicle.family === family.key)
      const plain = plainChances(family, ofFamily, cutOff, plan.days)
      const said = ofFamily
        .filter(({ scored }) => scored)
        .flatMap((vehicle) => whatIsSaid(vehicle, scorer, stated, plan.days))
      return said.flatMap((each) => this.caseOf(each, family, plain, cutOff))
    })
  }

  private caseOf(said: Said, family: Family, plain: PlainForecasts, cutOff: Day): ReplayCase[] {
    const { days } = this.input.plan
    const { unit, position } = said
    const weakPoint = weakPointOf(family, said.weakPoint)
    const outcome = this.hindsight.outcome(unit, weakPoint, position, { cutOff, days })
    const rivals = plain(unit, weakPoint.key, position)
    if (!outcome || !rivals) return []
    const cost = jobCost(weakPoint, this.prices)
    return [{ ...said, ...cost, chances: { ...said.chances, ...rivals }, outcome, cutOff }]
  }
}

function weakPointOf(family: Family, key: string): WeakPoint {
  const found = family.weakPoints.find((weakPoint) => weakPoint.key === key)
  if (!found) throw new Error(`${family.key} has no weak point ${key}`)
  return found
}

type Said = Pick<ReplayCase, 'unit' | 'family' | 'weakPoint' | 'position' | 'booked'> & {
  chances: Record<'product' | 'ages' | 'library', number>
}

/** What the product says of a vehicle's components, with its signs and without, learned and as stated. */
function whatIsSaid(
  vehicle: VehicleThen,
  scorer: VehicleScorer,
  stated: VehicleScorer,
  days: number,
): Said[] {
  const { unit, family } = vehicle.records.vehicle
  const unseen = { ...vehicle, records: { ...vehicle.records, codes: [], checks: [] } }
  const product = scorer.chances(vehicle, { days })
  const ages = scorer.chances(unseen, { days }).components
  const library = scorer === stated ? product.components : stated.chances(vehicle, { days }).components
  const advised = product.advised()
  return product.components.map(({ weakPoint, position, pFail }, c) => ({
    unit,
    family,
    weakPoint,
    position,
    booked: advised[c]!,
    chances: { product: pFail, ages: ages[c]!.pFail, library: library[c]!.pFail },
  }))
}

/** What a replay is asked to do, in words that reach another process. */
export interface ReplayWork {
  records: Records
  library: Library
  plan: ReplayPlan
  learning: boolean
}

/** Judges cases that were gathered, by cut-off and over all. */
export function judgeAll(
  { records, library, plan, learning }: ReplayWork,
  cases: readonly ReplayCase[][],
): Replay {
  const { visit } = pricesOf(library, records.settings)
  const money = cases.map((each) => moneyOf(each, visit))
  return {
    from: formatDay(plan.from),
    to: formatDay(plan.to),
    every: plan.every,
    days: plan.days,
    learned: learning,
    cutOffs: cutOffsOf(plan).map((asOf, k) => ({
      asOf: formatDay(asOf),
      judgements: judgementsOf(cases[k]!),
      money: money[k]!,
    })),
    overall: {
      judgements: judgementsOf(cases.flat()),
      weakPoints: byWeakPoint(library, cases.flat()),
      money: byName(FORECASTERS, (forecaster) => addMoney(money.map((each) => each[forecaster]))),
    },
  }
}

const byWeakPoint = (library: Library, cases: readonly ReplayCase[]): WeakPointTally[] =>
  library.families.flatMap((family) =>
    family.weakPoints.map(({ key }) => {
      const own = cases.filter((each) => each.family === family.key && each.weakPoint === key)
      return { family: family.key, weakPoint: key, ...tally(own, 'product') }
    }),
  )

const judgementsOf = (cases: readonly ReplayCase[]): Record<Forecaster, Judgement> =>
  byName(FORECASTERS, (forecaster) => judge(cases, forecaster))

const moneyOf = (cases: readonly ReplayCase[], visit: number): Record<Forecaster, Money> =>
  byName(FORECASTERS, (forecaster) => moneySpent(cases, forecaster, visit))

const byName = <Name extends string, Value>(
  names: readonly Name[],
  of: (name: Name) => Value,
): Record<Name, Value> => Object.fromEntries(names.map((name) => [name, of(name)])) as Record<Name, Value>
