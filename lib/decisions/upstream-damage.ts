/** What a defect costs its neighbours below while it is left: they age faster, and ageing has a price. */
import { meanAhead } from '@/lib/scoring/ahead'
import { type AdviceGround, rateOf } from './advice'

/**
 * Σ (k − 1) · P(developing) · Δage · g* over the links to what lies below, by component: Δage is what the part below ages
 * in that time by itself, g* its long-run cost of that age. A failed part counts as developing.
 *
 * @param days how long it is left
 */
export function upstreamDamage(ground: AdviceGround, days: number): number[] {
  const { vehicle, clock } = ground
  const { belief } = vehicle
  const ahead = meanAhead(clock, { days })
  return belief.plan.linksFrom.map((links, c) => {
    const going = links.length > 0 ? belief.developing(c) : 0
    return links.reduce((damage, { to, strength }) => {
      const below = belief.beliefs[to]!
      const { weakPoint } = below.component
      // What has failed ages no more.
      if (below.failed) return damage
      const aged = below.duty * ahead[weakPoint.clock]
      return damage + (strength - 1) * going * aged * rateOf(ground, weakPoint, to)
    }, 0)
  })
}
