/**
 * What is said of a new part, as the library states it or as was learned: the chance that it has begun to go, and has
 * failed, by an age.
 */
import { cumulativeOnset, type LifeTables, logDevelopingRatio } from '@/lib/model/life-table'
import { weightedQuantiles } from '@/lib/model/outlook'
import type { Family, WeakPoint } from '@/lib/records/library'
import type { FamilyFit } from './family-fit'
import { learnedParameters, type Parameters, statedParameters } from './parameters'
import type { ComponentChance } from './score-components'

/** A new original part at an age, in the weak point's clock unit; the band is that of `pFail`, 80 %. */
export interface StatedChance extends ComponentChance {
  age: number
  /** It has begun to go by then, or has failed already. */
  pStarted: number
}

export interface NewPartLife {
  /** From new to twice the age at which half have begun, or further, in even steps. */
  curve: StatedChance[]
  /** At the age at which half are stated to have begun. */
  atHalf: StatedChance
}

const BAND = [0.1, 0.9] as const
/** A statement is worked out once as long as it is held: a family's page asks for each of its weak points every time. */
const known = new WeakMap<Family, Map<WeakPoint, NewPartLife>>()
const STEPS = 40

/**
 * The life of a new part as the author states it, who is not to change that statement: the mean over the prior that
 * the confidence stands for, with its band. The engine's version is not known, the duty is mixed, nothing upstream
 * develops, nobody looks.
 */
export function statedLife(family: Family, weakPoint: WeakPoint): NewPartLife {
  const lives = known.get(family) ?? new Map<WeakPoint, NewPartLife>()
  const life = lives.get(weakPoint) ?? newPartLife(statedParameters(family), weakPoint, weakPoint.onset.p50)
  known.set(family, lives.set(weakPoint, life))
  return life
}

/** A curve that reaches so many times as far as the stated half would hide the beginning of both. */
const FARTHEST = 3

/** The same as learned from the organisation's own lives; as stated where nothing was. */
export function learnedNewPartLife(family: Family, weakPoint: WeakPoint, fit: FamilyFit): NewPartLife {
  const parameters = learnedParameters(family, fit)
  const { shape, scale } = parameters.original(weakPoint, null)
  const stated = weakPoint.onset.p50
  const half = Math.min(Math.max(scale * Math.LN2 ** (1 / shape), stated), FARTHEST * stated)
  return newPartLife(parameters, weakPoint, Number(half.toPrecision(2)))
}

/** @param half the curve reaches twice as far */
function newPartLife(parameters: Parameters, weakPoint: WeakPoint, half: number): NewPartLife {
  const { nodes } = parameters.of(weakPoint, null, null)
  return {
    curve: Array.from({ length: STEPS + 1 }, (_, i) => statedChance(nodes, (2 * half * i) / STEPS)),
    atHalf: statedChance(nodes, weakPoint.onset.p50),
  }
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
