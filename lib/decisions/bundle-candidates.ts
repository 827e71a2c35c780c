/** The jobs of one vehicle that could be done on one visit, each with what doing it now saves. */
import { meanAhead } from '@/lib/scoring/ahead'
import { type AdviceGround, type ComponentDecision, decisionsBeforeLooks, rateOf } from './advice'
import { type BundleCandidate, type BundleTerms, canPay } from './bundle'
import { jobCost } from './costs'
import { courseOf, leastOver, lossAfter } from './inner/courses'
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
 * @param payingAt those that cannot pay on a visit at these terms are left out, which spares most of the work; all are
 *   told where it is not said
 * @returns none where nothing is due
 */
export function bundleCandidates(ground: AdviceGround, payingAt?: BundleTerms): BundleCandidate[] {
  const { vehicle, clock, prices } = ground
  const { belief } = vehicle
  const decisions = decisionsBeforeLooks(ground)
  const damage = upstreamDamage(ground, prices.slotDays)
  // K is never above L(slot): most vehicles end here.
  if (!decisions.some(({ advice, costOfWaiting }, c) => advice !== 'fine' || costOfWaiting + damage[c]! > 0))
    return []
  const steps = belief.ageingAheads(
    MOMENTS.map((slots) => meanAhead(clock, { days: slots * prices.slotDays })),
  )
  const candidates = belief.beliefs.flatMap((_, c) => {
    const stepsOf = withFartherAges(
      ground,
      c,
      steps.map((each) => each[c]!),
    )
    return candidateOf(ground, c, { decision: decisions[c]!, damage: damage[c]!, steps: stepsOf, payingAt })
  })
  return candidates.some(({ due, stop }) => due || stop) ? candidates : []
}

interface CandidateInput {
  decision: ComponentDecision
  damage: number
  /** Ascending. */
  steps: number[]
  payingAt: BundleTerms | undefined
}

function candidateOf(
  ground: AdviceGround,
  c: number,
  { decision, damage, steps, payingAt }: CandidateInput,
): BundleCandidate[] {
  const state = ground.vehicle.belief.beliefs[c]!
  const { weakPoint, position } = state.component
  const cost = jobCost(weakPoint, ground.prices)
  const stop = decision.advice === 'stop'
  const mustBeDone = stop || state.failed || decision.due
  if (!mustBeDone && !(cost.planned > 0)) return []
  const { hours } = weakPoint.cost
  const job = {
    weakPoint: weakPoint.key,
    position,
    cost: cost.planned,
    stop,
    hours,
    sharedHours: Math.min(weakPoint.cost.sharedHours, hours),
    access: accessOf(weakPoint),
    part: weakPoint.part,
  }
  const pays = (gain: number) =>
    mustBeDone || !payingAt || canPay({ ...job, due: gain + damage > 0, gain: gain + damage }, payingAt)
  const left = state.failed
    ? certain(decision.costOfWaiting)
    : leavingUntilBest(ground, c, { steps, least: decision.due ? 0 : Number.NEGATIVE_INFINITY, pays })
  if (!left) return []
  const gain = left.gain + damage
  const gainBand = { low: left.band.low + damage, high: left.band.high + damage }
  return [{ ...job, gain, gainBand, due: mustBeDone || gain > 0 }]
}

type Left = { gain: number; band: MoneyBand }

const certain = (gain: number): Left => ({ gain, band: { low: gain, high: gain } })

/** K(slot) − C_p, at least `least`, with its band; null where it turns out on the way that it does not pay. */
function leavingUntilBest(
  ground: AdviceGround,
  c: number,
  { steps, least, pays }: { steps: number[]; least: number; pays: (gain: number) => boolean },
): Left | null {
  const state = ground.vehicle.belief.beliefs[c]!
  const cost = jobCost(state.component.weakPoint, ground.prices)
  const rate = rateOf(ground, state.component.weakPoint, c)
  const best = leastOver(lossAfter(courseOf(ground, c), cost, rate), steps, pays)
  if (!best) return null
  const band = bandOfLeaving(state.currentNodes(), best.step, cost, rate)
  return {
    gain: Math.max(best.loss, least),
    band: { low: Math.max(band.low, least), high: Math.max(band.high, least) },
  }
}
