/**
 * The most to bid for a vehicle, and what a look at it would be worth before.
 *
 * The bid is what it will sell for, less making it ready, the margin that is wanted, what must be done first, and what is
 * set aside for its cover. A look is worth the expected value of sample information (Raiffa & Schlaifer 1961) for one
 * decision, to buy it at a price or not, by expected costs: `E[max(0, T − A(outcome))] − max(0, T − A)`, T being what
 * may be left for the cover at that price, and A what it is expected to cost. Never negative, for the mean of A over the
 * outcomes is A. Without a price it is that of whoever would just buy: then a look is worth most.
 */
import type { Lattice } from '@/lib/model/lattice'
import { quantiles } from '@/lib/model/lattice'
import { type AdviceGround, groupedSigns, LOOK_KINDS, type LookKind } from './advice'
import { type DoneFirst, doneFirst } from './done-first'
import { type LookOutcome, lookOutcomes } from './look-worth'
import type { SetAsideTerms } from './set-aside'
import { setAsideDetail } from './set-aside-detail'
import { supposingOdds, supposingState } from './supposing'

export interface BidTerms {
  /** What it will sell for. */
  retail: number
  prep: number
  margin: number
  cover: SetAsideTerms
  /** In how many of all cases what is set aside is to be enough. */
  share: number
  /** What is asked for it; null where nobody has said. */
  price: number | null
}

export interface Bid {
  highest: number
  /** With what is enough in nineteen of twenty cases, and with what is in half. */
  low: number
  high: number
  first: DoneFirst['first']
  amount: number
  p50: number
  p95: number
  mean: number
  meanOfUnknown: number
  /** At the price that is asked: what is left beyond the margin on the average; null without one. */
  left: number | null
  /** The look that brings most first. */
  looks: BidLook[]
}

/** A kind of look before the vehicle is bought. */
export interface BidLook {
  kind: LookKind
  hours: number
  cost: number
  /** Before its own cost. */
  worth: number
  /** The bid if nothing is seen, and how likely that is. */
  ifNothing: { chance: number; bid: number }
  /** The bid if that sign alone is seen, the likeliest of them; null where none has a chance to speak of. */
  ifSeen: { sign: number; chance: number; bid: number } | null
}

export function bidFor(ground: AdviceGround, terms: BidTerms): Bid {
  const { first, after } = doneFirst(ground)
  const { total, points } = setAsideDetail(after, terms.cover)
  const left = leftForCover(terms, first)
  const [p50, amount, p95] = amountsOf(total, terms.share)
  return {
    ...{ highest: left - amount, low: left - p95, high: left - p50 },
    ...{ first, amount, p50, p95, mean: total.mean },
    meanOfUnknown: points.reduce((sum, each) => sum + each.meanOfUnknownHistory, 0),
    left: terms.price === null ? null : left - terms.price - total.mean,
    looks: looksBeforeBid({ ground, after, first }, total.mean, terms),
  }
}

/** What is left of the sale's price for the vehicle and its cover. */
const leftForCover = ({ retail, prep, margin }: BidTerms, first: DoneFirst['first']) =>
  retail - prep - margin - (first?.cost ?? 0)

function amountsOf(total: Lattice, share: number): [number, number, number] {
  const [p50, amount, p95] = [0.5, share, 0.95].map((level) => quantiles(total, [level])[0]!)
  return [p50!, amount!, p95!]
}

/** The vehicle as it stands, and after what must be done first. */
type Seen = DoneFirst & { ground: AdviceGround }

function looksBeforeBid(seen: Seen, expected: number, terms: BidTerms): BidLook[] {
  const { prices } = seen.ground
  const left = leftForCover(terms, seen.first)
  const slack = terms.price === null ? 0 : left - terms.price - expected
  const dearerIfGoing = differences(seen.after, terms.cover)
  const looks = LOOK_KINDS.flatMap((kind): BidLook[] => {
    const groups = groupedSigns(seen.ground, kind).map((signs) => outcomesOf(seen, signs))
    if (groups.length === 0) return []
    const shifts = groups.map(({ components, outcomes, now }) =>
      outcomes.map(({ chance, going }) => ({
        chance,
        dearer: components.reduce((sum, c, i) => sum + (going[i]! - now[i]!) * dearerIfGoing(c), 0),
      })),
    )
    const hours = prices.lookHours[kind]
    return [
      {
        ...{ kind, hours, cost: hours * prices.labourRate },
        worth: worthAt(slack, shifts),
        ifNothing: ifNothing(seen, groups, (after) => bidOf(after, left, terms)),
        ifSeen: ifSeen(seen, groups, (after) => bidOf(after, left, terms)),
      },
    ]
  })
  return looks.sort((a, b) => b.worth - b.cost - (a.worth - a.cost))
}

const bidOf = (after: AdviceGround, left: number, { cover, share }: BidTerms) =>
  left - quantiles(setAsideDetail(after, cover).total, [share])[0]!

type GroupSeen = { components: number[]; outcomes: LookOutcome[]; now: number[] }

/** What a look for the signs of one group may show of the parts that will still be there. */
function outcomesOf({ ground, first, after }: Seen, signs: number[]): GroupSeen {
  const { plan, beliefs } = ground.vehicle.belief
  const all = new Set(signs.flatMap((sign) => plan.signs[sign]!.causes.map(({ component }) => component)))
  const isKept = (c: number) => first === null || after.vehicle.belief.beliefs[c] === beliefs[c]
  const components = [...all].filter((c) => !beliefs[c]!.failed && isKept(c))
  const outcomes = lookOutcomes(ground.vehicle, signs, components)
  const now = components.map((_, i) => outcomes.reduce((sum, each) => sum + each.chance * each.going[i]!, 0))
  return { components, outcomes, now }
}

/** By how much the cover is dearer if a component is going than if it is good. */
function differences(ground: AdviceGround, cover: SetAsideTerms): (component: number) => number {
  const { components } = ground.vehicle.belief.plan
  const all = [...new Set(components.map(({ weakPoint }) => weakPoint.key))]
  const known = new Map<number, number>()
  const differenceOf = (c: number) => {
    const { key } = components[c]!.weakPoint
    if (cover.excluded?.has(key)) return 0
    const only = { ...cover, excluded: new Set(all.filter((each) => each !== key)) }
    const meanIf = (state: 'going' | 'good') =>
      setAsideDetail(
        supposingState(ground, (each) => (each === c ? state : null)),
        only,
      ).total.mean
    return meanIf('going') - meanIf('good')
  }
  return (c) => {
    const found = known.get(c) ?? differenceOf(c)
    known.set(c, found)
    return found
  }
}

type Shift = { chance: number; dearer: number }

/**
 * E[max(0, slack − dearer)] − max(0, slack) over independent groups of outcomes.
 *
 * @param slack what is left beyond everything at the price, on the average
 */
export function worthAt(slack: number, groups: readonly (readonly Shift[])[]): number {
  const all = groups.reduce<Shift[]>(
    (sum, group) => merged(sum.flatMap((a) => group.map((b) => both(a, b)))),
    [{ chance: 1, dearer: 0 }],
  )
  const expected = all.reduce((sum, { chance, dearer }) => sum + chance * Math.max(0, slack - dearer), 0)
  return Math.max(expected - Math.max(0, slack), 0)
}

const both = (a: Shift, b: Shift): Shift => ({ chance: a.chance * b.chance, dearer: a.dearer + b.dearer })

/** More outcomes than this are not told apart: neighbours are taken for their mean, which is knowing less. */
const MOST_OUTCOMES = 512

function merged(shifts: Shift[]): Shift[] {
  if (shifts.length <= MOST_OUTCOMES) return shifts
  const sorted = shifts.toSorted((a, b) => a.dearer - b.dearer)
  const each = Math.ceil(sorted.length / MOST_OUTCOMES)
  return Array.from({ length: Math.ceil(sorted.length / each) }, (_, i) => {
    const together = sorted.slice(i * each, (i + 1) * each)
    const chance = together.reduce((sum, one) => sum + one.chance, 0)
    const mean = together.reduce((sum, one) => sum + one.chance * one.dearer, 0)
    return { chance, dearer: chance > 0 ? mean / chance : together[0]!.dearer }
  })
}

function ifNothing({ after }: Seen, groups: GroupSeen[], bid: (after: AdviceGround) => number) {
  const odds = new Float64Array(after.vehicle.belief.beliefs.length).fill(1)
  let chance = 1
  for (const { components, outcomes } of groups) {
    const silent = outcomes.find(({ seen }) => seen.length === 0)
    chance *= silent?.chance ?? 0
    components.forEach((c, i) => {
      odds[c] = silent?.odds[i] ?? 1
    })
  }
  return { chance, bid: bid(supposingOdds(after, odds)) }
}

/** A sign that is seen less often than this is not told. */
const LEAST_CHANCE = 0.01

function ifSeen(
  { after }: Seen,
  groups: GroupSeen[],
  bid: (after: AdviceGround) => number,
): BidLook['ifSeen'] {
  const single = groups
    .flatMap(({ components, outcomes }) => outcomes.map((outcome) => ({ components, outcome })))
    .filter(({ outcome: { seen } }) => seen.length === 1 && seen[0]!.length === 1)
  const likeliest = single.toSorted((a, b) => b.outcome.chance - a.outcome.chance)[0]
  if (!likeliest || likeliest.outcome.chance < LEAST_CHANCE) return null
  const { components, outcome } = likeliest
  const odds = new Float64Array(after.vehicle.belief.beliefs.length).fill(1)
  components.forEach((c, i) => {
    odds[c] = outcome.odds[i]!
  })
  return { sign: outcome.seen[0]![0]!, chance: outcome.chance, bid: bid(supposingOdds(after, odds)) }
}
