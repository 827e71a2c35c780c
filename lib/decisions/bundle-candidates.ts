/** The jobs of one vehicle that could be done on one visit, each with what doing it now saves. */
import { meanAhead } from '@/lib/scoring/ahead'
import { type AdviceGround, type ComponentDecision, rateOf } from './advice'
import type { BundleCandidate } from './bundle'
import { jobCost } from './costs'
import { courseOf, decisionsOf, lossesOf } from './inner/courses'
import { accessOf, withFartherAges } from './inner/job-terms'
import { upstreamDamage } from './upstream-damage'
import { bandOfLeaving, MOMENTS, type MoneyBand } from './waiting'

/**
 * One candidate a component. K is taken at the parameter nodes; its band is that of the moment that is best on the mean,
 * for whoever waits does not know which node is true.
 *
 * A component is due where K(slot) > C_p with the damage that it does below, where it must not be driven with, where it
 * has failed, or where its stated interval has run out. One without a price is a candidate only for the last three.
 *
 * @returns none where nothing is due
 */
export function bundleCandidates(ground: AdviceGround): BundleCandidate[] {
  const { vehicle, clock, prices } = ground
  const { belief } = vehicle
  const decisions = decisionsOf(ground)
  const damage = upstreamDamage(ground, prices.slotDays)
  // K is never above L(slot): most vehicles end here.
  if (!decisions.some(({ advice, costOfWaiting }, c) => advice !== 'fine' || costOfWaiting + damage[c]! > 0))
    return []
  const steps = MOMENTS.map((slots) =>
    belief.ageingAhead(meanAhead(clock, { days: slots * prices.slotDays })),
  )
  const candidates = belief.beliefs.flatMap((_, c) => {
    const stepsOf = withFartherAges(
      ground,
      c,
      steps.map((each) => each[c]!),
    )
    return candidateOf(ground, c, decisions[c]!, damage[c]!, stepsOf)
  })
  return candidates.some(({ due, stop }) => due || stop) ? candidates : []
}

function candidateOf(
  ground: AdviceGround,
  c: number,
  decision: ComponentDecision,
  damage: number,
  steps: number[],
): BundleCandidate[] {
  const state = ground.vehicle.belief.beliefs[c]!
  const { weakPoint, position } = state.component
  const cost = jobCost(weakPoint, ground.prices)
  const stop = decision.advice === 'stop'
  const mustBeDone = stop || state.failed || decision.due
  if (!mustBeDone && !(cost.planned > 0)) return []
  const left = state.failed
    ? certain(decision.costOfWaiting)
    : leavingUntilBest(ground, c, steps, decision.due ? 0 : Number.NEGATIVE_INFINITY)
  const gain = left.gain + damage
  const { hours, sharedHours } = weakPoint.cost
  return [
    {
      weakPoint: weakPoint.key,
      position,
      gain,
      gainBand: { low: left.band.low + damage, high: left.band.high + damage },
      cost: cost.planned,
      due: mustBeDone || gain > 0,
      stop,
      hours,
      sharedHours: Math.min(sharedHours, hours),
      access: accessOf(weakPoint),
      part: weakPoint.part,
    },
  ]
}

type Left = { gain: number; band: MoneyBand }

const certain = (gain: number): Left => ({ gain, band: { low: gain, high: gain } })

/** K(slot) − C_p, at least `least`, with its band. */
function leavingUntilBest(ground: AdviceGround, c: number, steps: number[], least: number): Left {
  const state = ground.vehicle.belief.beliefs[c]!
  const cost = jobCost(state.component.weakPoint, ground.prices)
  const rate = rateOf(ground, state.component.weakPoint, c)
  const losses = lossesOf(courseOf(ground, c), steps, cost, rate)
  const loss = Math.min(...losses)
  const band = bandOfLeaving(state.currentNodes(), steps[losses.indexOf(loss)]!, cost, rate)
  return {
    gain: Math.max(loss, least),
    band: { low: Math.max(band.low, least), high: Math.max(band.high, least) },
  }
}
