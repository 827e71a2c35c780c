/** Rewinds records to past dates, scores as was possible then, and judges by what happened. */
import { pricesOf } from '@/lib/decisions/costs'
import type { Library } from '@/lib/records/library'
import { type Day, formatDay } from '@/lib/units/dates'
import { type Gains, gainsOn } from './compare-forecasts'
import {
  byName,
  FORECASTERS,
  type Forecaster,
  type Judgement,
  judge,
  type ReplayCase,
  RIVALS,
  type Rival,
  type Said,
  type Tally,
  tally,
} from './judge'
import { addMoney, type Money, moneySpent } from './money'
import type { Hindsight } from './outcomes'
import type { PastRecords } from './records-as-of'

export interface ReplayPlan {
  /** The first cut-off, and the last day on which one may lie. */
  from: Day
  to: Day
  /** Days from one to the next. */
  every: number
  /** The horizon. */
  days: number
}

/** What a replay is asked to do, in words that reach another process. */
export interface ReplayWork {
  records: PastRecords
  library: Library
  plan: ReplayPlan
  /** Whether the product learns anew at each cut-off; else it says what the library says. */
  learning: boolean
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
  overall: Verdicts & { weakPoints: WeakPointTally[]; gains: Record<Rival, Gains> }
}

/** The days to which the records are rewound. */
export const cutOffsOf = ({ from, to, every }: ReplayPlan): Day[] =>
  Array.from({ length: Math.max(Math.floor((to - from) / every) + 1, 0) }, (_, k) => from + k * every)

/** What was said, with what came of it; what was said of a part that had failed before or was not seen since is left out. */
export function casesOf(
  said: readonly Said[],
  hindsight: Hindsight,
  { library, plan: { days } }: Pick<ReplayWork, 'library' | 'plan'>,
): ReplayCase[] {
  const weakPoints = new Map(
    library.families.flatMap((family) =>
      family.weakPoints.map((weakPoint) => [JSON.stringify([family.key, weakPoint.key]), weakPoint]),
    ),
  )
  return said.flatMap((one) => {
    const weakPoint = weakPoints.get(JSON.stringify([one.family, one.weakPoint]))!
    const outcome = hindsight.outcome(one.unit, weakPoint, one.position, { cutOff: one.cutOff, days })
    return outcome ? [{ ...one, outcome }] : []
  })
}

/** Judges cases that were gathered, by cut-off and over all. */
export function judgeAll(
  { records, library, plan, learning }: ReplayWork,
  cases: readonly ReplayCase[][],
): Replay {
  const { visit } = pricesOf(library, records.settings)
  const all = cases.flat()
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
      judgements: judgementsOf(all),
      weakPoints: byWeakPoint(library, all),
      gains: byName(RIVALS, (rival) => gainsOn(all, rival)),
      money: byName(FORECASTERS, (forecaster) => addMoney(money.map((each) => each[forecaster]))),
    },
  }
}

function byWeakPoint(library: Library, cases: readonly ReplayCase[]): WeakPointTally[] {
  const families = library.families.map(({ key, weakPoints }) => ({
    family: key,
    weakPoints: new Map(weakPoints.map((weakPoint) => [weakPoint.key, [] as ReplayCase[]])),
  }))
  const byKey = new Map(families.map(({ family, weakPoints }) => [family, weakPoints]))
  for (const one of cases) byKey.get(one.family)?.get(one.weakPoint)?.push(one)
  return families.flatMap(({ family, weakPoints }) =>
    Array.from(weakPoints, ([weakPoint, own]) => ({ family, weakPoint, ...tally(own, 'product') })),
  )
}

const judgementsOf = (cases: readonly ReplayCase[]): Record<Forecaster, Judgement> =>
  byName(FORECASTERS, (forecaster) => judge(cases, forecaster))

const moneyOf = (cases: readonly ReplayCase[], visit: number): Record<Forecaster, Money> =>
  byName(FORECASTERS, (forecaster) => moneySpent(cases, forecaster, visit))
