/** What of a vehicle may wait, and until when: the moment that is best for each part that is not done now. */
import { meanAhead } from '@/lib/scoring/ahead'
import { chancesWithin } from '@/lib/scoring/score-components'
import { type AdviceGround, rateOf } from './advice'
import { LETTER_DAYS, type LetterChance } from './call-ground'
import { jobCost } from './costs'
import { leaveUntil, lossOfLeaving, MOMENTS } from './waiting'

/** A part that need not be done now. */
export interface MayWait {
  weakPoint: string
  position: number
  chance: LetterChance
  /** After so many days it is best done; null: not within the years that are looked ahead. */
  bestInDays: number | null
  /** Waiting even one slot costs something on the mean. */
  due: boolean
}

/** A part less likely to fail within the letter's days than this is not worth a line. (A convention of ours.) */
const LEAST_CHANCE = 0.02

/**
 * Parts with a price that are likely enough to fail to be told of, the likeliest first: K(slot) by the moment that it is
 * taken at.
 *
 * @param isLeftOut those that are told elsewhere, or not at all
 */
export function mayWait(
  ground: AdviceGround,
  isLeftOut: (weakPoint: string, position: number) => boolean,
): MayWait[] {
  const { vehicle, clock, prices } = ground
  const { belief } = vehicle
  const chances = chancesWithin(belief, clock, { days: LETTER_DAYS }).components
  const ahead = MOMENTS.map((slots) =>
    belief.ageingAhead(meanAhead(clock, { days: slots * prices.slotDays })),
  )
  const waiting = belief.beliefs.flatMap((state, c): MayWait[] => {
    const { weakPoint, position } = state.component
    const { pFail, pLow, pHigh } = chances[c]!
    const cost = jobCost(weakPoint, prices)
    if (state.failed || !(cost.planned > 0) || pFail < LEAST_CHANCE) return []
    if (isLeftOut(weakPoint.key, position)) return []
    const steps = ahead.map((each) => each[c]!)
    const leaving = leaveUntil(state.currentNodes(), steps)
    const rate = rateOf(ground, weakPoint, c)
    const losses = steps.map((_, m) => lossOfLeaving(leaving, m, cost, rate))
    const best = losses.indexOf(Math.min(...losses))
    return [
      {
        ...{ weakPoint: weakPoint.key, position, chance: { pFail, pLow, pHigh } },
        bestInDays: best === MOMENTS.length - 1 ? null : MOMENTS[best]! * prices.slotDays,
        due: losses[best]! > 0,
      },
    ]
  })
  return waiting.sort((a, b) => b.chance.pFail - a.chance.pFail)
}
