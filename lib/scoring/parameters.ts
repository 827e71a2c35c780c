/**
 * Where the parameters of a life come from: the library's statement, as nodes over its prior, or what was learned
 * from the organisation's own lives, which takes the statement's place weak point by weak point.
 */
import { fromStatement, GRADE_SPREAD } from '@/lib/model/elicitation'
import { type LifeParameters, type LifeTables, lifeTables } from '@/lib/model/life-table'
import { lifeAt, type ParameterNodes, statedNodes } from '@/lib/model/parameter-nodes'
import type { Family, WeakPoint } from '@/lib/records/library'
import type { Day } from '@/lib/units/dates'
import { type FamilyFit, type LearnedLife, wasLearned } from './family-fit'
import { learnedCentral, learnedNodes } from './learned-life'
import { type LifeWay, lifeFactors, lifeWays, presentWays } from './life-ways'

/** The nodes of one kind of life, and the central values that the joint filter uses. */
export interface LifeNodes {
  nodes: LifeTables
  central: LifeTables
}

export interface Parameters {
  /**
   * @param revision null for the original part, `?` where it is not known (a mixture over the revisions)
   * @param variant null where it is not known (the average over the variants)
   */
  of(weakPoint: WeakPoint, revision: string | null, variant: string | null): LifeNodes
  /** Central values of the original part with a variant: what long-run cost rates are made from. */
  original(weakPoint: WeakPoint, variant: string | null): LifeParameters
  /**
   * The last day of the lives from which the weak point's parameters were learned, null where they were not: what a
   * life of known beginning has survived is in the nodes already, and does not weigh them again.
   */
  learnedUpTo(weakPoint: WeakPoint): Day | null
}

/** 'stated': nodes over the prior or the posterior; 'central': one node, as if nothing were uncertain. */
export type Spread = 'stated' | 'central'

type MadeOnce = Record<Spread, WeakMap<Family, WeakRef<Parameters>>>
const noneYet = (): MadeOnce => ({ stated: new WeakMap(), central: new WeakMap() })

const stated = noneYet()
const learned = new WeakMap<FamilyFit, MadeOnce>()

/** Parameters as a library states them; made once for a family, whatever the day, for as long as somebody has them. */
export const statedParameters = (family: Family, spread: Spread = 'stated'): Parameters =>
  madeOnce(stated, family, spread, null)

/** Parameters as learned, and as stated for the weak points of which nothing was; made once for what was learned. */
export function learnedParameters(family: Family, fit: FamilyFit, spread: Spread = 'stated'): Parameters {
  const made = learned.get(fit) ?? noneYet()
  learned.set(fit, made)
  return madeOnce(made, family, spread, fit)
}

/** What they compile to is large: once nobody scores by them, it goes, though the library stays. */
function madeOnce(made: MadeOnce, family: Family, spread: Spread, fit: FamilyFit | null): Parameters {
  const found = made[spread].get(family)?.deref() ?? familyParameters(family, spread, fit)
  made[spread].set(family, new WeakRef(found))
  return found
}

/** One weak point's parameters, of the original part (no factors) or with factors on η, by index. */
interface LifeSource {
  central(factors: readonly number[]): LifeParameters
  nodes(factors: readonly number[]): ParameterNodes
}

function familyParameters(family: Family, spread: Spread, fit: FamilyFit | null): Parameters {
  const known = new Map<string, LifeNodes>()
  const originals = new Map<string, LifeParameters>()
  const sources = new Map<string, LifeSource>()
  const learnedOf = (weakPoint: WeakPoint): LearnedLife | null => {
    const learned = fit?.weakPoints.get(weakPoint.key)
    return learned && wasLearned(learned) ? learned : null
  }
  const sourceOf = (weakPoint: WeakPoint): LifeSource => {
    const learned = learnedOf(weakPoint)
    const source = sources.get(weakPoint.key) ?? (learned ? learnedLives(learned) : statedLives(weakPoint))
    sources.set(weakPoint.key, source)
    return source
  }
  return {
    of(weakPoint, revision, variant) {
      const key = wayKey(weakPoint.key, revision, variant)
      const found =
        known.get(key) ??
        buildNodes(sourceOf(weakPoint), lifeWays(family, weakPoint, revision, variant), spread)
      known.set(key, found)
      return found
    },
    original(weakPoint, variant) {
      const key = wayKey(weakPoint.key, null, variant)
      const found = originals.get(key) ?? originalLife(sourceOf(weakPoint), family, weakPoint, variant)
      originals.set(key, found)
      return found
    },
    learnedUpTo: (weakPoint) => (fit && learnedOf(weakPoint) ? fit.asOf : null),
  }
}

/** No key of a library has a line break in it. */
const wayKey = (weakPoint: string, revision: string | null, variant: string | null): string =>
  `${weakPoint}\n${revision === null ? '' : `=${revision}`}\n${variant === null ? '' : `=${variant}`}`

function originalLife(
  source: LifeSource,
  family: Family,
  weakPoint: WeakPoint,
  variant: string | null,
): LifeParameters {
  const ways = presentWays(lifeWays(family, weakPoint, null, variant))
  const log = ways.reduce((a, way) => a + way.share * Math.log(source.central(way.factors).scale), 0)
  return { ...source.central([]), scale: Math.exp(log) }
}

function statedLives(weakPoint: WeakPoint): LifeSource {
  const stated = fromStatement({ ...weakPoint.onset, warning: weakPoint.warning })
  const prior = GRADE_SPREAD[weakPoint.confidence]
  const factors = lifeFactors(weakPoint)
  const central = (indices: readonly number[]) => ({
    ...stated,
    scale: stated.scale * Math.exp(indices.reduce((a, i) => a + factors[i]!.log, 0)),
  })
  return {
    central,
    nodes: (indices) => {
      const logScale = Math.hypot(prior.logScale, ...indices.map((i) => factors[i]!.sd))
      return statedNodes(central(indices), { ...prior, logScale })
    },
  }
}

const learnedLives = (learned: LearnedLife): LifeSource => ({
  central: (factors) => learnedCentral(learned, factors),
  nodes: (factors) => learnedNodes(learned, factors),
})

function buildNodes(source: LifeSource, ways: LifeWay[], spread: Spread): LifeNodes {
  const central: LifeParameters[] = []
  const nodes: LifeParameters[] = []
  const weights: number[] = []
  for (const way of ways) {
    const here = source.central(way.factors)
    central.push(way.absent ? { ...here, scale: Number.POSITIVE_INFINITY } : here)
    if (spread === 'central' || way.absent) {
      nodes.push(central.at(-1)!)
      weights.push(way.share)
      continue
    }
    const set = source.nodes(way.factors)
    set.weight.forEach((weight, k) => {
      nodes.push(lifeAt(set, k))
      weights.push(weight * way.share)
    })
  }
  const shares = ways.map((way) => way.share)
  return { nodes: lifeTables(nodes, weights), central: lifeTables(central, shares) }
}
