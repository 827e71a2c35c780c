/** What a library's statement says of a new part: the chance that it has begun to go, and has failed, by an age. */
import { cumulativeOnset, type LifeTables, logDevelopingRatio } from '@/lib/model/life-table'
import { weightedQuantiles } from '@/lib/model/outlook'
import type { Family, WeakPoint } from '@/lib/records/library'
import { statedParameters } from './parameters'
import type { ComponentChance } from './score-components'

/** A new original part at an age, in the weak point's clock unit; the band is that of `pFail`, 80 %. */
export interface StatedChance extends ComponentChance {
  age: number
  /** It has begun to go by then, or has failed already. */
  pStarted: number
}

export interface StatedLife {
  /** From new to twice the age at which half are stated to have begun, in even steps. */
  curve: StatedChance[]
  /** At the age at which half are stated to have begun. */
  atHalf: StatedChance
}

const BAND = [0.1, 0.9] as const
/** A statement is worked out once as long as it is held: a family's page asks for each of its weak points every time. */
const known = new WeakMap<Family, Map<WeakPoint, StatedLife>>()
const STEPS_TO_HALF = 20

/**
 * The life of a new part as the author states it, who is not to change that statement: the mean over the prior that the confidence stands for, with its
 * band. The engine's version is not known, the duty is mixed, nothing upstream develops, nobody looks.
 */
export function statedLife(family: Family, weakPoint: WeakPoint): StatedLife {
  const lives = known.get(family) ?? new Map<WeakPoint, StatedLife>()
  const life = lives.get(weakPoint) ?? workedOut(family, weakPoint)
  known.set(family, lives.set(weakPoint, life))
  return life
}

function workedOut(family: Family, weakPoint: WeakPoint): StatedLife {
  const { nodes } = statedParameters(family).of(weakPoint, null, null)
  const half = weakPoint.onset.p50
  const curve = Array.from({ length: 2 * STEPS_TO_HALF + 1 }, (_, i) =>
    statedChance(nodes, (half * i) / STEPS_TO_HALF),
  )
  return { curve, atHalf: curve[STEPS_TO_HALF]! }
}

/** 1 − S_F = (1 − S_U) − D: begun to go, and not still developing. */
function statedChance(nodes: LifeTables, age: number): StatedChance {
  const failed = new Float64Array(nodes.count)
  let [pStarted, pFail] = [0, 0]
  for (let k = 0; k < nodes.count && age > 0; k++) {
    const onset = cumulativeOnset(nodes, k, Math.log(age))
    const developing = Math.exp(logDevelopingRatio(nodes, k, Math.log(age)) - onset)
    failed[k] = Math.min(Math.max(-Math.expm1(-onset) - developing, 0), 1)
    pStarted -= nodes.weight[k]! * Math.expm1(-onset)
    pFail += nodes.weight[k]! * failed[k]!
  }
  const [low, high] = weightedQuantiles(failed, nodes.weight, BAND)
  return { age, pStarted, pFail, pLow: Math.min(low!, pFail), pHigh: Math.max(high!, pFail) }
}
