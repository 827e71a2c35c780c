/**
 * Where the parameters of a life come from. The library's statement gives nodes over its prior; a fit (later)
 * replaces the nodes and nothing else.
 */
import { fromStatement, GRADE_SPREAD } from '@/lib/model/elicitation'
import { type LifeParameters, type LifeTables, lifeTables } from '@/lib/model/life-table'
import { statedNodes } from '@/lib/model/parameter-nodes'
import type { Family, WeakPoint } from '@/lib/records/library'

/** A revision that somebody fitted without writing down which. */
export const UNKNOWN_REVISION = '?'

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
}

/** A way the life may be: factor on η, spread of its logarithm, share among the ways. */
interface Way {
  factor: number
  spread: number
  share: number
}

const PLAIN: Way = { factor: 1, spread: 0, share: 1 }

/**
 * Parameters as a library states them.
 *
 * @param spread 'stated': nodes over the prior; 'central': one node, as if the author were certain
 */
export function statedParameters(family: Family, spread: 'stated' | 'central' = 'stated'): Parameters {
  const known = new Map<string, LifeNodes>()
  return {
    of(weakPoint, revision, variant) {
      const key = JSON.stringify([weakPoint.key, revision, variant])
      const found =
        known.get(key) ?? buildNodes(weakPoint, waysOf(family, weakPoint, revision, variant), spread)
      known.set(key, found)
      return found
    },
    original(weakPoint, variant) {
      const ways = variantWays(family, weakPoint, variant).filter((way) => Number.isFinite(way.factor))
      const factor = ways.reduce((a, way) => a + Math.log(way.factor), 0) / Math.max(ways.length, 1)
      const central = fromStatement({ ...weakPoint.onset, warning: weakPoint.warning })
      return { ...central, scale: central.scale * Math.exp(factor) }
    },
  }
}

function waysOf(
  family: Family,
  weakPoint: WeakPoint,
  revision: string | null,
  variant: string | null,
): Way[] {
  const ofRevision = revisionWays(weakPoint, revision)
  return variantWays(family, weakPoint, variant).flatMap((v) =>
    ofRevision.map((r) => ({
      factor: v.factor * r.factor,
      spread: Math.hypot(v.spread, r.spread),
      share: v.share * r.share,
    })),
  )
}

const wayOf = (
  stated: { lifeFactor: number; confidence: keyof typeof GRADE_SPREAD },
  share: number,
): Way => ({
  factor: stated.lifeFactor,
  spread: GRADE_SPREAD[stated.confidence].logScale,
  share,
})

function revisionWays(weakPoint: WeakPoint, revision: string | null): Way[] {
  if (revision === null) return [PLAIN]
  if (revision !== UNKNOWN_REVISION) {
    const stated = weakPoint.revisions.find((r) => r.key === revision)
    return [stated ? wayOf(stated, 1) : PLAIN]
  }
  const lasting = weakPoint.revisions.filter((r) => !r.temporary)
  const share = 1 / (lasting.length + 1)
  return [{ ...PLAIN, share }, ...lasting.map((r) => wayOf(r, share))]
}

/**
 * The variants that a vehicle may be. Where only one is named, a blank may as well mean "not that one": the
 * plain engine counts beside it.
 */
function variantWays(family: Family, weakPoint: WeakPoint, variant: string | null): Way[] {
  const named = family.variants.map((v) => v.key)
  const wayOfVariant = (key: string | null, share: number): Way => {
    const stated = key === null ? undefined : weakPoint.variants[key]
    if (stated?.absent) return { factor: Number.POSITIVE_INFINITY, spread: 0, share }
    return stated ? wayOf(stated, share) : { ...PLAIN, share }
  }
  if (variant !== null || named.length === 0) return [wayOfVariant(variant, 1)]
  const possible = named.length === 1 ? [null, ...named] : named
  return mergeAlike(possible.map((key) => wayOfVariant(key, 1 / possible.length)))
}

/** Variants that make no difference to this weak point are one way. */
function mergeAlike(ways: Way[]): Way[] {
  const merged: Way[] = []
  for (const way of ways) {
    const twin = merged.find((m) => m.factor === way.factor && m.spread === way.spread)
    if (twin) twin.share += way.share
    else merged.push({ ...way })
  }
  return merged
}

function buildNodes(weakPoint: WeakPoint, ways: Way[], spread: 'stated' | 'central'): LifeNodes {
  const stated = fromStatement({ ...weakPoint.onset, warning: weakPoint.warning })
  const prior = GRADE_SPREAD[weakPoint.confidence]
  const central: LifeParameters[] = []
  const nodes: LifeParameters[] = []
  const weights: number[] = []
  for (const way of ways) {
    const here = { ...stated, scale: stated.scale * way.factor }
    central.push(here)
    if (spread === 'central' || !Number.isFinite(here.scale)) {
      nodes.push(here)
      weights.push(way.share)
      continue
    }
    const set = statedNodes(here, { ...prior, logScale: Math.hypot(prior.logScale, way.spread) })
    for (let k = 0; k < set.weight.length; k++) {
      nodes.push({ shape: set.shape[k]!, scale: set.scale[k]!, pfMean: set.pfMean[k]! })
      weights.push(set.weight[k]! * way.share)
    }
  }
  const shares = ways.map((way) => way.share)
  return { nodes: lifeTables(nodes, weights), central: lifeTables(central, shares) }
}
