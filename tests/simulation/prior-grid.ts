/**
 * What is left of an author's doubt after one vehicle's own records: the posterior over a dense grid of
 * parameters, for an original part that is alone with its sign. It judges the few nodes of the product.
 */
import type { WeakPoint } from '@/lib/records/library'
import { SPREAD } from './truth'
import { type Parameters, statedParameters, stepBetween } from './two-stage'

export type SoloLook = { km: number; seen: boolean }
export type SoloSign = { leak: number; detect: number }

const POINTS = 11
const REACH = 3.5

/** Chances of a part at `km`, of age `km`, that has not failed so far: over all parameters the author allows. */
export function askPriorGrid(
  weakPoint: WeakPoint,
  sign: SoloSign,
  looks: SoloLook[],
  km: number,
  aheadKm: number,
): { pFail: number; pDeveloping: number } {
  const stated = statedParameters(weakPoint)
  const sd = SPREAD[weakPoint.confidence]
  let [total, fails, develops] = [0, 0, 0]
  for (const [a, b, c] of gridPoints()) {
    const p: Parameters = {
      scale: stated.scale * Math.exp(sd.scale * a),
      shape: stated.shape * Math.exp(sd.shape * b),
      pfMean: stated.pfMean * Math.exp(sd.pfMean * c),
    }
    const prior = Math.exp(-(a * a + b * b + c * c) / 2)
    const { sound, developing } = followed(p, sign, looks, km)
    const ahead = stepBetween(p, km, km + aheadKm)
    total += prior * (sound + developing)
    develops += prior * developing
    fails += prior * (sound * ahead.failSound + developing * (1 - ahead.keep))
  }
  return { pFail: fails / total, pDeveloping: develops / total }
}

/** P(state and all looks, not failed) under one set of parameters. */
function followed(p: Parameters, { leak, detect }: SoloSign, looks: SoloLook[], km: number) {
  let [sound, developing, age] = [1, 0, 0]
  const moveTo = (to: number) => {
    const { stay, onset, keep } = stepBetween(p, age, to)
    developing = developing * keep + sound * onset
    sound *= stay
    age = to
  }
  for (const look of looks) {
    moveTo(look.km)
    const [quiet, quietThough] = [1 - leak, (1 - leak) * (1 - detect)]
    sound *= look.seen ? 1 - quiet : quiet
    developing *= look.seen ? 1 - quietThough : quietThough
  }
  moveTo(km)
  return { sound, developing }
}

/** In standard deviations of the three logarithms. */
function gridPoints(): [number, number, number][] {
  const axis = Array.from({ length: POINTS }, (_, i) => -REACH + (2 * REACH * i) / (POINTS - 1))
  return axis.flatMap((a) => axis.flatMap((b) => axis.map((c): [number, number, number] => [a, b, c])))
}
