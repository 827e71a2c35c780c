/** What a job on a bundle and a job on a plan have in common: how far ahead is looked, what is shared, what is left alone. */
import type { WeakPoint } from '@/lib/records/library'
import type { AdviceGround } from '../advice'

/** Shares of a part's life, for what comes after the last moment: a vehicle that stands today will be driven again. */
const SHARES_OF_LIFE = [0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.7, 0.9, 1.1, 1.4]
/**
 * A sound part that has used up less than this share of what it is worth is as good as new: the visit that replacing
 * it now would save is only brought forward, so it is left alone at any price of a visit. (A convention of ours.)
 */
const AS_GOOD_AS_NEW = 0.25

/**
 * Farther than looks ask, by age: a part as good as new has its best moment many years ahead, or whenever it is used.
 *
 * @param steps ascending, in what the component ages by
 */
export function withFartherAges({ vehicle, parameters }: AdviceGround, c: number, steps: number[]): number[] {
  const { belief } = vehicle
  const { scale } = parameters.original(belief.beliefs[c]!.component.weakPoint, belief.plan.variant)
  const last = steps.at(-1)!
  const farther = Number.isFinite(scale) ? SHARES_OF_LIFE.map((share) => share * scale) : []
  return [...steps, ...farther.filter((step) => step > last)]
}

/** Parts that are replaced as a set lie under one cover, named or not. */
export const accessOf = ({
  access,
  asASet,
  key,
}: Pick<WeakPoint, 'access' | 'asASet' | 'key'>): string | null => access ?? (asASet ? `set ${key}` : null)

/** @param gain what doing the job saves against leaving it, the visit not counted; `cost` C_p */
export const isAsGoodAsNew = ({ gain, cost }: { gain: number; cost: number }): boolean =>
  gain <= (AS_GOOD_AS_NEW - 1) * cost
