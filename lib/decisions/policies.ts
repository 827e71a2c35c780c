/**
 * Four ways of dealing with one weak point on all vehicles, and what each costs a year in the long run: run to failure,
 * a fixed interval, the best interval (age replacement, Barlow & Hunter 1960, Operations Research 8, 90–100), and acting
 * on signs and score.
 *
 * By renewal reward: the cost of a cycle over its length. A new part begins developing with the chance that a renewal does
 * not succeed. What is not known of the life is kept: every node gives its own rate, and the band is their 10th and 90th
 * percentile. What people go by is the central life, whichever is true: that is all they know.
 *
 * The looks themselves cost nothing here: they are made for all weak points at once. Nor does the visit.
 */
import { ageReplacement } from '@/lib/model/age-replacement'
import type { LifeParameters, LifeTables } from '@/lib/model/life-table'
import { meanLife, meanLifeUpTo } from '@/lib/model/mean-life'
import { weightedQuantiles } from '@/lib/model/outlook'
import { logSurvival } from '@/lib/model/two-stage'
import type { Band } from './fleet-quarter'
import { type Cycles, roomFor, signsCycles } from './inner/signs-cycle'
import type { PolicyGround, PolicyUse } from './policy-ground'

export type PolicyName = 'failure' | 'interval' | 'optimum' | 'signs'

export interface PolicyOutcome {
  policy: PolicyName
  /** In clock units, the longest where parts that are used otherwise have others; Infinity: never. Null: no interval. */
  interval: number | null
  /** A year, of all the parts. */
  cost: Band
  failures: Band
  replaced: Band
}

export type PoliciesWeighed =
  | { ok: true; outcomes: PolicyOutcome[]; bestIsFailure: boolean }
  | { ok: false; reason: 'no-price' | 'outside-domain' }

/** Three or four policies; the fixed interval is left out where none is stated. */
export function weighPolicies(ground: PolicyGround): PoliciesWeighed {
  const { cost, centralLife, interval } = ground
  if (!(cost.planned > 0)) return { ok: false, reason: 'no-price' }
  const optimum = ageReplacement(centralLife, cost.planned, cost.unplanned)
  if (!optimum.ok) return optimum
  const byAge = (policy: PolicyName, told: number | null, ageOf: (use: PolicyUse) => number) =>
    outcomeOf(ground, policy, told, (use) => cyclesOfAge(ground, ageOf(use)))
  const longest = Math.max(...ground.uses.map(({ ageing }) => optimum.tStar / ageing))
  return {
    ok: true,
    bestIsFailure: !optimum.finite,
    outcomes: [
      byAge('failure', null, () => Number.POSITIVE_INFINITY),
      ...(interval === null ? [] : [byAge('interval', interval, ({ ageing }) => interval * ageing)]),
      byAge('optimum', longest, () => optimum.tStar),
      outcomeOf(ground, 'signs', null, (use) => signsCycles(ground, use, optimum.gStar)),
    ],
  }
}

const isThere = ({ logScale }: LifeTables, k: number) => Number.isFinite(logScale[k]!)

/** A new part that is replaced at an age (effective units), or at failure. */
function cyclesOfAge({ nodes, success }: PolicyGround, age: number): Cycles {
  const cycles = roomFor(nodes)
  for (let k = 0; k < nodes.count; k++) {
    if (!isThere(nodes, k)) continue
    const life = lifeOf(nodes, k)
    const flawed = life.pfMean > 0 ? 1 - success : 0
    const isEndless = age === Number.POSITIVE_INFINITY
    const survives = isEndless ? 0 : Math.exp(logSurvival(age, life))
    const going = life.pfMean > 0 ? Math.exp(-age / life.pfMean) : 0
    const good = isEndless ? meanLife(life) : meanLifeUpTo(age, life, survives)
    cycles.replaced[k] = (1 - flawed) * survives + flawed * going
    cycles.failures[k] = 1 - cycles.replaced[k]!
    cycles.length[k] = (1 - flawed) * good + flawed * life.pfMean * (1 - going)
  }
  return cycles
}

const lifeOf = ({ shape, logScale, failRate }: LifeTables, k: number): LifeParameters => ({
  shape: shape[k]!,
  scale: Math.exp(logScale[k]!),
  pfMean: 1 / failRate[k]!,
})

function outcomeOf(
  { nodes, uses, cost }: PolicyGround,
  policy: PolicyName,
  interval: number | null,
  cyclesOf: (use: PolicyUse) => Cycles,
): PolicyOutcome {
  const [failures, replaced] = [new Float64Array(nodes.count), new Float64Array(nodes.count)]
  for (const use of uses) {
    const cycles = cyclesOf(use)
    for (let k = 0; k < nodes.count; k++) {
      if (!isThere(nodes, k)) continue
      const perYear = (use.unitsPerYear * use.ageing) / cycles.length[k]!
      failures[k] = failures[k]! + perYear * cycles.failures[k]!
      replaced[k] = replaced[k]! + perYear * cycles.replaced[k]!
    }
  }
  const weight = nodes.weight.map((w, k) => (isThere(nodes, k) ? w : 0))
  const money = failures.map((each, k) => each * cost.unplanned + replaced[k]! * cost.planned)
  const band = (values: Float64Array) => bandOver(values, weight)
  return { policy, interval, cost: band(money), failures: band(failures), replaced: band(replaced) }
}

const BAND = [0.1, 0.9] as const

/** Mean and 80 % band of weighted values. */
export function bandOver(values: Float64Array, weight: Float64Array): Band {
  const total = weight.reduce((a, b) => a + b, 0)
  const mean = total > 0 ? values.reduce((sum, each, k) => sum + each * weight[k]!, 0) / total : 0
  const [low, high] = weightedQuantiles(values, weight, BAND)
  return { mean, low: Math.min(low!, mean), high: Math.max(high!, mean) }
}
