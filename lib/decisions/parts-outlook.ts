/**
 * What parts the coming weeks need, whether there are enough, and what to order by when.
 *
 * The need of a part is the number of its failures, and what is planned takes its part for certain. Failures of one weak
 * point share what is not known of its life: their logits are moved together along the band of each (80 % of it taken as
 * that of a normal), by five points of Gauss and Hermite, so that the mean stays; weak points know nothing of each other.
 * What fails twice within the weeks counts once.
 */
import { normalRule } from '@/lib/model/gauss-hermite'
import {
  addCounts,
  type Count,
  chanceWithin,
  enoughFor,
  mixCounts,
  moreCertain,
  poissonBinomial,
} from '@/lib/model/poisson-binomial'
import type { PartStock } from '@/lib/records/part-stock'
import type { Day } from '@/lib/units/dates'

/** P(failure within so many days), with its 80 % band. */
export interface ChanceBy {
  days: number
  pFail: number
  pLow: number
  pHigh: number
}

/** A component whose part may be needed. */
export interface PartComponent {
  unit: string
  family: string
  weakPoint: string
  position: number
  part: string
  /** By rising days. */
  chances: readonly ChanceBy[]
  /** The day for which its job is planned; null where it is not. */
  plannedOn: Day | null
}

/** What makes the need of a part: a component that may fail, or is planned. */
export interface PartMaker {
  unit: string
  family: string
  weakPoint: string
  position: number
  chance: number
  plannedOn: Day | null
}

export interface PartOutlook {
  part: string
  /** Weak points that use it, with their engine. */
  uses: { family: string; weakPoint: string }[]
  mean: number
  /** Of these, for certain: planned jobs. */
  planned: number
  /** Enough in one, five, nine of ten, in nineteen of twenty cases, and in the share that is asked for. */
  p10: number
  p50: number
  p90: number
  p95: number
  enough: number
  need: Count
  stock: PartStock | null
  /** The share of cases in which what is there or to come by the end is enough. */
  covered: number
  toOrder: number
  /** The first day of the week in which there may be too few, at the share asked for; null where there are enough. */
  shortFrom: Day | null
  /** By when to order for it; null where nothing is to be ordered, or nobody has said how long it takes. */
  orderBy: Day | null
  /** The likeliest first; some that matter little are left out of the list, not of the count. */
  makers: PartMaker[]
}

export interface OutlookTerms {
  today: Day
  weeks: number
  /** The share of all cases in which there are to be enough. */
  level: number
}

const WEEK = 7

/** By part, in the order of their names; parts in stock that nothing needs are among them. */
export const partsOutlook = (
  components: readonly PartComponent[],
  stock: ReadonlyMap<string, PartStock>,
  terms: OutlookTerms,
): PartOutlook[] => [...eachPartsOutlook(components, stock, terms)]

/** The same one after the other, for whoever has others to serve between two parts. */
export function* eachPartsOutlook(
  components: readonly PartComponent[],
  stock: ReadonlyMap<string, PartStock>,
  terms: OutlookTerms,
): Generator<PartOutlook, void> {
  const byPart = new Map<string, PartComponent[]>([...stock.keys()].map((part) => [part, []]))
  for (const one of components) {
    const own = byPart.get(one.part)
    if (own) own.push(one)
    else byPart.set(one.part, [one])
  }
  for (const [part, own] of [...byPart].sort(([a], [b]) => (a < b ? -1 : 1)))
    yield outlookOf(part, own, stock.get(part) ?? null, terms)
}

function outlookOf(
  part: string,
  components: readonly PartComponent[],
  stock: PartStock | null,
  terms: OutlookTerms,
): PartOutlook {
  const { level, today, weeks } = terms
  const until = today + weeks * WEEK
  const groups = groupsOf(components)
  const need = needUntil(groups, until, today)
  const there = (stock?.onHand ?? 0) + (stock?.onOrder ?? 0)
  const enough = enoughFor(need, level)
  const shortFrom = firstShort(groups, stock, terms)
  const toOrder = Math.max(enough - there, 0)
  return {
    part,
    uses: groups.map(([first]) => ({ family: first!.family, weakPoint: first!.weakPoint })),
    mean: components.reduce((sum, one) => sum + chanceOf(one, until, today), 0),
    planned: components.filter((one) => isPlanned(one, until)).length,
    ...{
      p10: enoughFor(need, 0.1),
      p50: enoughFor(need, 0.5),
      p90: enoughFor(need, 0.9),
      p95: enoughFor(need, 0.95),
    },
    ...{ enough, need, stock, toOrder, shortFrom },
    covered: chanceWithin(need, there),
    orderBy: toOrder > 0 && shortFrom !== null && stock?.leadDays != null ? shortFrom - stock.leadDays : null,
    makers: makersOf(components, until, today),
  }
}

function groupsOf(components: readonly PartComponent[]): PartComponent[][] {
  const groups = new Map<string, PartComponent[]>()
  for (const one of components) {
    const key = JSON.stringify([one.family, one.weakPoint])
    const group = groups.get(key)
    if (group) group.push(one)
    else groups.set(key, [one])
  }
  return [...groups.values()]
}

const isPlanned = ({ plannedOn }: PartComponent, until: Day) => plannedOn !== null && plannedOn < until

const chanceOf = (one: PartComponent, until: Day, today: Day) =>
  isPlanned(one, until) ? 1 : chanceWithinDays(one.chances, until - today).pFail

/** How many are needed before a day. */
function needUntil(groups: readonly PartComponent[][], until: Day, today: Day): Count {
  const planned = groups.flat().filter((one) => isPlanned(one, until)).length
  const counts = groups.map((group) =>
    failuresWithin(
      group
        .filter((one) => !isPlanned(one, until))
        .map(({ chances }) => chanceWithinDays(chances, until - today)),
    ),
  )
  return moreCertain(counts.reduce(addCounts, poissonBinomial([])), planned)
}

/** 80 % of a normal lie within so many standard deviations. */
const Z80 = 1.2815515655446004
const RULE = normalRule(5)

/** How many of one weak point fail: what is not known of its life is the same for all of them. */
export function failuresWithin(chances: readonly Omit<ChanceBy, 'days'>[]): Count {
  const moved = RULE.nodes.map(() => new Float64Array(chances.length))
  chances.forEach((one, i) => {
    chancesTogether(one).forEach((p, k) => {
      moved[k]![i] = p
    })
  })
  return mixCounts(moved.map(poissonBinomial), RULE.weights)
}

/** A chance at each of the points, with the mean that it has. */
function chancesTogether({ pFail, pLow, pHigh }: Omit<ChanceBy, 'days'>): number[] {
  if (!(pFail > 0 && pFail < 1 && pLow > 0 && pHigh < 1 && pHigh > pLow)) return RULE.nodes.map(() => pFail)
  const spread = (logit(pHigh) - logit(pLow)) / (2 * Z80)
  const moved = RULE.nodes.map((z) => 1 / (1 + Math.exp(-(logit(pFail) + z * spread))))
  const mean = moved.reduce((sum, p, k) => sum + RULE.weights[k]! * p, 0)
  return moved.map((p) => Math.min((p * pFail) / mean, 1))
}

const logit = (p: number) => Math.log(p / (1 - p))

/**
 * The chance within any number of days from those within some: the hazard is taken as even from one to the next, and as
 * it was last beyond them.
 */
export function chanceWithinDays(chances: readonly ChanceBy[], days: number): Omit<ChanceBy, 'days'> {
  const after = Math.max(
    chances.findIndex((one) => one.days >= days),
    0,
  )
  const to = chances.find((one) => one.days >= days) ? chances[after]! : chances.at(-1)!
  const from = chances[chances.indexOf(to) - 1] ?? { days: 0, pFail: 0, pLow: 0, pHigh: 0 }
  const share = (days - from.days) / (to.days - from.days)
  const at = (key: 'pFail' | 'pLow' | 'pHigh') => {
    if (to[key] >= 1) return 1
    const [a, b] = [-Math.log1p(-from[key]), -Math.log1p(-to[key])]
    return -Math.expm1(-(a + (b - a) * share))
  }
  return { pFail: at('pFail'), pLow: at('pLow'), pHigh: at('pHigh') }
}

/** The first week at whose end there may be too few. Beyond what comes on a known day, the need only grows. */
function firstShort(
  groups: readonly PartComponent[][],
  stock: PartStock | null,
  { today, weeks, level }: OutlookTerms,
): Day | null {
  const comesOn = arrivesOn(stock, today)
  const isShortBy = (week: number) => {
    const until = today + week * WEEK
    const there =
      (stock?.onHand ?? 0) + (comesOn !== null && comesOn <= until - WEEK ? (stock?.onOrder ?? 0) : 0)
    return enoughFor(needUntil(groups, until, today), level) > there
  }
  // Before what is to come has come, and from then on: in each stretch the stock stays and the need grows.
  const comesWeek =
    comesOn === null ? weeks : Math.min(Math.max(Math.ceil((comesOn - today) / WEEK), 0), weeks)
  const first = firstWeek(1, comesWeek, isShortBy) ?? firstWeek(comesWeek + 1, weeks, isShortBy)
  return first === null ? null : today + (first - 1) * WEEK
}

/** When what is on order comes; null where nothing is, or nobody knows. */
function arrivesOn(stock: PartStock | null, today: Day): Day | null {
  if (!stock?.onOrder) return null
  if (stock.dueOn !== null && stock.dueOn >= today) return stock.dueOn
  return stock.leadDays === null ? null : today + stock.leadDays
}

/** The first of some weeks from which on it is so; null where it is not in the last. */
function firstWeek(from: number, to: number, isSo: (week: number) => boolean): number | null {
  if (to < from || !isSo(to)) return null
  let [low, high] = [from, to]
  while (low < high) {
    const middle = (low + high) >> 1
    if (isSo(middle)) high = middle
    else low = middle + 1
  }
  return low
}

const MOST_MAKERS = 40
/** Numbers of vehicles as people order them; made once, for making one takes longer than comparing a thousand. */
const BY_NUMBER = new Intl.Collator('en', { numeric: true })

function makersOf(components: readonly PartComponent[], until: Day, today: Day): PartMaker[] {
  const chances = Float64Array.from(components, (one) => chanceOf(one, until, today))
  const least = chances.toSorted().at(-MOST_MAKERS) ?? 0
  return components
    .flatMap((one, i) => {
      if (chances[i]! < least) return []
      const { unit, family, weakPoint, position } = one
      const plannedOn = isPlanned(one, until) ? one.plannedOn : null
      return [{ unit, family, weakPoint, position, chance: chances[i]!, plannedOn }]
    })
    .sort((a, b) => b.chance - a.chance || BY_NUMBER.compare(a.unit, b.unit))
    .slice(0, MOST_MAKERS)
}
