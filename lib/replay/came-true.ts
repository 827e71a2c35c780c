/** How often chances like one came true when the past was replayed. */
import type { Forecaster } from './judge'
import type { Replay } from './replay'
import { type ChanceClass, chanceClasses } from './track-report'

export type CameTrue = Pick<ChanceClass, 'from' | 'to' | 'count' | 'came' | 'low' | 'high'>

/**
 * The class of chances that one belongs to, and how many of its parts failed.
 *
 * @param forecaster whose chance it is: as it was learned, or of the library alone
 * @returns null where too few were given such a chance to say
 */
export function cameTrue(replay: Replay, chance: number, forecaster: Forecaster): CameTrue | null {
  const found = chanceClasses(replay, forecaster).find(
    ({ from, to }) => from <= chance && (chance < to || to === 1),
  )
  if (!found) return null
  const { from, to, count, came, low, high } = found
  return { from, to, count, came, low, high }
}
