/**
 * The same four policies, lived through on the organisation's own parts as they are believed to be now: their ages, how
 * they are driven, how much they are used. Each round one node is true for all of them, for what is not known of a life is
 * not known of any of them; the band is over rounds, so that it holds what is not known as well as luck.
 */
import { ageReplacement } from '@/lib/model/age-replacement'
import type { LifeTables } from '@/lib/model/life-table'
import { type Random, seededRandom } from '@/lib/model/random'
import { copyStrands } from '@/lib/model/strands'
import { renewedLife, startsDeveloping } from '@/lib/scoring/life-start'
import type { Band } from './fleet-quarter'
import { BelievedSlot, type BySigns } from './inner/believed-slot'
import type { PolicyName } from './policies'
import type { PartNow, PolicyGround } from './policy-ground'

export interface SimulatedPolicy {
  policy: PolicyName
  /** A year, of all the parts. */
  cost: Band
  failures: Band
  replaced: Band
}

export interface SimulationTerms {
  years: number
  rounds: number
  seed: number
  /** All the parts, where those that are lived through are but some of them. */
  parts: number
}

interface Tally {
  failures: number
  replaced: number
}

/** @returns null where the job has no price, or no part is there */
export function simulatePolicies(
  ground: PolicyGround,
  parts: readonly PartNow[],
  terms: SimulationTerms,
): SimulatedPolicy[] | null {
  const { cost, interval, centralLife } = ground
  if (!(cost.planned > 0) || parts.length === 0) return null
  const optimum = ageReplacement(centralLife, cost.planned, cost.unplanned)
  if (!optimum.ok) return null
  const slots = Math.round((terms.years * 365.25) / ground.slotDays)
  const toAge =
    (limit: (part: PartNow) => number): LivingOf =>
    (part) =>
    (life, tally) =>
      liveToAge(life, limit(part), slots, tally)
  const policies: [PolicyName, LivingOf][] = [
    ['failure', toAge(() => Number.POSITIVE_INFINITY)],
    ...(interval === null
      ? []
      : [['interval', toAge(({ ageing }) => interval * ageing)] as [PolicyName, LivingOf]]),
    ['optimum', toAge(() => optimum.tStar)],
    ['signs', (part) => livingBySigns({ ground, slot: part.slot, rate: optimum.gStar }, part, slots)],
  ]
  const nodes = nodesOf(parts, terms)
  return policies.map(([policy, livingOf]) => {
    const tallies = nodes.map((): Tally => ({ failures: 0, replaced: 0 }))
    for (const [p, part] of parts.entries()) {
      const live = livingOf(part)
      for (const [round, tally] of tallies.entries()) {
        const random = seededRandom(terms.seed + ROUND_SEED * round + PART_SEED * (p + 1))
        live(new Life(ground, part, nodes[round]!(part), random), tally)
      }
    }
    return { policy, ...bandsOf(tallies, cost, terms, parts.length) }
  })
}

/** Each round and each part in it has chances of its own, the same for every policy. */
const ROUND_SEED = 7919
const PART_SEED = 104_729

/** One of a part's lives, counted. */
type Living = (life: Life, tally: Tally) => void
/** What is the same for all lives of a part is worked out once. */
type LivingOf = (part: PartNow) => Living

/** By round, the node that is true in it, for each part in its own tables. */
function nodesOf(
  parts: readonly PartNow[],
  { rounds, seed }: SimulationTerms,
): ((part: PartNow) => number)[] {
  const weights = meanWeights(parts)
  return Array.from({ length: rounds }, (_, round) => {
    const place = (round + seededRandom(seed + ROUND_SEED * round).uniform()) / rounds
    return (part) => nodeAt(weights, place, part)
  })
}

function bandsOf(
  tallies: readonly Tally[],
  cost: PolicyGround['cost'],
  { years, parts }: SimulationTerms,
  lived: number,
) {
  const perYear = parts / lived / years
  const band = (of: (tally: Tally) => number): Band => {
    const values = tallies.map((tally) => of(tally) * perYear).sort((a, b) => a - b)
    const mean = values.reduce((a, b) => a + b, 0) / values.length
    const at = (share: number) => values[Math.min(Math.floor(share * values.length), values.length - 1)]!
    return { mean, low: Math.min(at(0.1), mean), high: Math.max(at(0.9), mean) }
  }
  return {
    cost: band(({ failures, replaced }) => failures * cost.unplanned + replaced * cost.planned),
    failures: band(({ failures }) => failures),
    replaced: band(({ replaced }) => replaced),
  }
}

/** By tables, what each node weighs on the mean over the parts; nodes by their scale, the shortest lives first. */
function meanWeights(parts: readonly PartNow[]): Map<LifeTables, { order: number[]; weight: number[] }> {
  const weights = new Map<LifeTables, { order: number[]; weight: number[] }>()
  for (const { nodes, failed } of parts) {
    const { tables } = nodes
    const order = Array.from({ length: tables.count }, (_, k) => k)
      .filter((k) => Number.isFinite(tables.logScale[k]!))
      .sort((a, b) => tables.logScale[a]! - tables.logScale[b]!)
    const known = weights.get(tables) ?? { order, weight: new Array<number>(tables.count).fill(0) }
    weights.set(tables, known)
    const { weight } = known
    if (failed)
      tables.weight.forEach((w, k) => {
        weight[k] = weight[k]! + w
      })
    else
      nodes.node.forEach((k, i) => {
        weight[k] = weight[k]! + nodes.sound[i]! + nodes.developing[i]!
      })
  }
  return weights
}

/** The node at a place between the shortest lives (0) and the longest (1). */
function nodeAt(weights: ReturnType<typeof meanWeights>, place: number, { nodes }: PartNow): number {
  const { order, weight } = weights.get(nodes.tables)!
  let left = place * order.reduce((sum, k) => sum + weight[k]!, 0)
  for (const k of order) {
    left -= weight[k]!
    if (left <= 0) return k
  }
  return order.at(-1) ?? 0
}

/** One part's life as it truly is; ages in effective units from now. */
class Life {
  /** When it begins to develop and when it fails. */
  onsetAt = 0
  failAt = 0
  /** Effective units since it was renewed, now. */
  readonly ran: number

  constructor(
    private readonly ground: PolicyGround,
    readonly part: PartNow,
    private readonly node: number,
    readonly random: Random,
  ) {
    this.ran = part.ran * part.ageing
    if (part.failed) return
    const { age, isGoing } = this.pickStrand()
    this.begin(0, age, isGoing)
  }

  /** A new part at a moment. */
  renew(at: number): void {
    const isFlawed = this.random.uniform() < startsDeveloping(this.tables, this.node, this.ground.success)
    this.begin(at, 0, isFlawed)
  }

  private get tables(): LifeTables {
    return this.part.nodes.tables
  }

  private begin(at: number, age: number, isGoing: boolean): void {
    const { shape, logScale, failRate } = this.tables
    const [beta, scale, rate] = [shape[this.node]!, Math.exp(logScale[this.node]!), failRate[this.node]!]
    const onset = isGoing ? age : scale * ((age / scale) ** beta + this.random.exponential()) ** (1 / beta)
    this.onsetAt = at + onset - age
    this.failAt = this.onsetAt + this.random.exponential() / rate
  }

  /** One of the ways in which the part may be at this node; any of them where none was left at the node. */
  private pickStrand(): { age: number; isGoing: boolean } {
    const { node, age, sound, developing } = this.part.nodes
    const isAt = node.includes(this.node)
    const mass = Array.from(node, (k, i) => (!isAt || k === this.node ? sound[i]! + developing[i]! : 0))
    let left = this.random.uniform() * mass.reduce((a, b) => a + b, 0)
    let i = mass.findIndex((each) => {
      left -= each
      return left <= 0
    })
    if (i < 0) i = mass.length - 1
    return { age: age[i]!, isGoing: this.random.uniform() * mass[i]! < developing[i]! }
  }
}

/** Replaced at an age or at failure. */
function liveToAge(life: Life, limit: number, slots: number, tally: Tally): void {
  const end = slots * life.part.slot
  let due = Math.max(limit - life.ran, 0)
  for (;;) {
    const at = Math.min(life.failAt, due)
    if (at > end) return
    if (life.failAt <= due) tally.failures++
    else tally.replaced++
    life.renew(at)
    due = at + limit
  }
}

/** Replaced when what is believed of it, from its age and from what is seen and not seen, says so; or at failure. */
function livingBySigns(by: BySigns, part: PartNow, slots: number): Living {
  const { slot, ground } = by
  const renewed = new BelievedSlot(renewedLife(part.central.tables, ground.success), by)
  const now = part.failed ? renewed : new BelievedSlot(copyStrands(part.central), by)
  return (life, tally) => {
    if (!(slot > 0)) return
    if (part.failed) {
      tally.failures++
      life.renew(0)
    }
    let believed = now
    for (let n = 0; n < slots; n++) {
      const [from, to] = [n * slot, (n + 1) * slot]
      const { isReplaced } = believed
      if (isReplaced) {
        tally.replaced++
        life.renew(from)
      }
      const fails = life.failAt <= to
      if (fails) {
        tally.failures++
        life.renew(Math.max(life.failAt, from))
      }
      believed = fails || isReplaced ? renewed : believed.next(isSeenAt(ground, life, to))
    }
  }
}

/** Whether a look in the slot that ends at `to` shows a sign. */
function isSeenAt({ shown }: PolicyGround, { onsetAt, random }: Life, to: number): boolean {
  return random.uniform() < (onsetAt <= to ? shown.developing : shown.sound)
}
