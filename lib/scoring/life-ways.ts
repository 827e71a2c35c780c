/**
 * What may multiply the life (η) of a weak point: a revision of the part, a variant of the engine. Which of them
 * apply to one life is known, or is a mixture of ways.
 */
import { GRADE_SPREAD } from '@/lib/model/elicitation'
import type { LivedLife } from '@/lib/model/lived-life'
import type { Family, WeakPoint } from '@/lib/records/library'

/** A revision that somebody fitted without writing down which. */
export const UNKNOWN_REVISION = '?'

/** A factor on η as the library states it: the logarithm and its standard deviation. */
export interface LifeFactor {
  of: 'revision' | 'variant'
  key: string
  log: number
  sd: number
}

/** A way a life may be: indices of the factors that apply together, and its share among the ways. */
export interface LifeWay {
  share: number
  factors: readonly number[]
  /** The variant does not have this weak point. */
  absent: boolean
}

/** Every factor of a weak point: its revisions, then the variants that make a difference to it. */
export function lifeFactors(weakPoint: WeakPoint): LifeFactor[] {
  const revisions = weakPoint.revisions.map((r) => ({ of: 'revision' as const, ...r }))
  const variants = Object.entries(weakPoint.variants)
    .filter(([, stated]) => !stated.absent)
    .map(([key, stated]) => ({ of: 'variant' as const, key, ...stated }))
  return [...revisions, ...variants].map(({ of, key, lifeFactor, confidence }) => ({
    of,
    key,
    log: Math.log(lifeFactor),
    sd: GRADE_SPREAD[confidence].logScale,
  }))
}

/**
 * The ways a life may be.
 *
 * @param revision null for the original part, `?` where it is not known (a mixture over the revisions)
 * @param variant null where it is not known (the average over the variants)
 */
export function lifeWays(
  family: Family,
  weakPoint: WeakPoint,
  revision: string | null,
  variant: string | null,
): LifeWay[] {
  const factors = lifeFactors(weakPoint)
  const indexOf = (of: LifeFactor['of'], key: string) =>
    factors.flatMap((factor, i) => (factor.of === of && factor.key === key ? [i] : []))
  const revisions = possibleRevisions(weakPoint, revision).map((key) => indexOf('revision', key ?? ''))
  const variants = possibleVariants(family, variant).map((key) => ({
    factors: indexOf('variant', key ?? ''),
    absent: key !== null && weakPoint.variants[key]?.absent === true,
  }))
  const share = 1 / (revisions.length * variants.length)
  return mergeAlike(
    variants.flatMap((v) =>
      revisions.map((r) => ({ share, factors: [...r, ...v.factors], absent: v.absent })),
    ),
  )
}

/** The ways without a variant that lacks the part; where every one does, as if none did. */
export function presentWays(ways: readonly LifeWay[]): LivedLife['ways'] {
  const present = ways.filter((way) => !way.absent)
  const counted = present.length > 0 ? present : ways
  const total = counted.reduce((a, way) => a + way.share, 0)
  return counted.map(({ share, factors }) => ({ share: share / total, factors }))
}

/**
 * How many of the vehicles of a family have a weak point: all but those of a variant that lacks it. Those whose variant
 * is not known count by the share of the variants that have it, so that it need not be a whole number.
 */
export function vehiclesWithPart(
  family: Family,
  weakPoint: WeakPoint,
  counted: readonly { variant: string | null; vehicles: number }[],
): number {
  return counted.reduce((sum, { variant, vehicles }) => {
    const present = lifeWays(family, weakPoint, null, variant).filter((way) => !way.absent)
    return sum + vehicles * present.reduce((share, way) => share + way.share, 0)
  }, 0)
}

/**
 * Whether no vehicle of a variant has a weak point. One whose variant is not known lacks it only where every variant that
 * it may be does, by the same rule as in the ways of its life.
 */
export const lacksPart = (family: Family, weakPoint: WeakPoint, variant: string | null): boolean =>
  lifeWays(family, weakPoint, null, variant).every((way) => way.absent)

function possibleRevisions(weakPoint: WeakPoint, revision: string | null): (string | null)[] {
  if (revision !== UNKNOWN_REVISION) return [revision]
  return [null, ...weakPoint.revisions.filter((r) => !r.temporary).map((r) => r.key)]
}

/** Where only one variant is named, a blank may as well mean "not that one": the plain engine counts beside it. */
function possibleVariants(family: Family, variant: string | null): (string | null)[] {
  const named = family.variants.map((v) => v.key)
  if (variant !== null || named.length === 0) return [variant]
  return named.length === 1 ? [null, ...named] : named
}

/** Variants that make no difference to this weak point are one way. */
function mergeAlike(ways: LifeWay[]): LifeWay[] {
  const merged = new Map<string, LifeWay>()
  for (const way of ways) {
    const key = `${way.absent} ${way.factors.join()}`
    merged.set(key, { ...way, share: way.share + (merged.get(key)?.share ?? 0) })
  }
  return [...merged.values()]
}
