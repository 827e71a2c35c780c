import type { WeakPointEntry } from './library/shape'
import type { Random } from './random'
import { LONG_LASTING_BATCH, trueLife, trueRevision } from './truth'

/** One life of one part: it starts to go at `onsetAge` and breaks at `failAge` (the clock's unit). */
export type Life = {
  age: number
  onsetAge: number
  failAge: number
  revision: string | null
  /** Age since the part was last truly renewed; a quick fix does not set it back. */
  sinceRenewal: number
}

export type Component = { weakPoint: WeakPointEntry; position: number; life: Life }

export const isDeveloping = ({ life }: Component): boolean => life.age >= life.onsetAge

/** How far a defect has gone, 0 at its onset to 1 at the breakdown; 0 for a sound part. */
export function progress({ life }: Component): number {
  if (life.age < life.onsetAge) return 0
  return Math.min(1, (life.age - life.onsetAge) / Math.max(1e-9, life.failAge - life.onsetAge))
}

export type LifeMaker = {
  fresh(weakPoint: WeakPointEntry, revision?: string | null, batch?: string | null): Life
  /** A part met at an age, whatever was renewed before anybody wrote it down. */
  met(weakPoint: WeakPointEntry, age: number): Life
}

/** The median of the sum of two exponentials of mean 1 (gamma of shape 2). */
const MEDIAN_TWO_STEPS = 1.678

/**
 * Draws lives in the invented world. The age of onset is Weibull about the *true* life (library times
 * `truth.ts` times the engine's own temper); a defect then goes through two steps of like mean before it
 * breaks, so that a fresh one seldom breaks at once. That is not the product's model, on purpose.
 *
 * @param temper how this engine treats all its parts: 1 is the average, above is kinder.
 */
export function makeLives(family: string, variant: string | null, temper: number, random: Random): LifeMaker {
  const fresh: LifeMaker['fresh'] = (weakPoint, revision = null, batch = null) => {
    const truth = trueLife(family, weakPoint.key)
    const stated = weakPoint.revisions?.find((r) => r.key === revision)
    const better = stated ? trueRevision(family, weakPoint.key, stated.key, stated.lifeFactor) : 1
    const variantFactor = (variant && weakPoint.variants?.[variant]?.lifeFactor) || 1
    const batchFactor = batch === LONG_LASTING_BATCH.name ? LONG_LASTING_BATCH.factor : 1
    const factor = truth.life * temper * better * variantFactor * batchFactor
    const onsetAge = weibullByQuantiles(weakPoint.onset, random) * factor
    const steps = (random.exponential() + random.exponential()) / MEDIAN_TWO_STEPS
    const failAge = onsetAge + weakPoint.warning * truth.warning * steps
    return { age: 0, onsetAge, failAge, revision, sinceRenewal: 0 }
  }
  const met: LifeMaker['met'] = (weakPoint, age) => {
    let rest = age
    for (;;) {
      const life = fresh(weakPoint)
      const renewedAt = Math.min(life.failAge, weakPoint.renewEvery ?? Number.POSITIVE_INFINITY)
      if (rest < renewedAt) return { ...life, age: rest, sinceRenewal: rest }
      rest -= renewedAt
    }
  }
  return { fresh, met }
}

/** A Weibull draw from the ages by which 10 % and 50 % show the onset. */
function weibullByQuantiles({ p10, p50 }: { p10: number; p50: number }, random: Random): number {
  const shape = Math.log(Math.LN2 / Math.log(10 / 9)) / Math.log(p50 / p10)
  return p50 * (random.exponential() / Math.LN2) ** (1 / shape)
}
