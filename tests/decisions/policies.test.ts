/** Four ways of dealing with a weak point: outside numbers, and long runs of parts that are lived through. */
import { describe, expect, it } from 'vitest'
import { type PolicyName, weighPolicies } from '@/lib/decisions/policies'
import type { PartNow, PolicyGround } from '@/lib/decisions/policy-ground'
import { simulatePolicies } from '@/lib/decisions/simulate-policies'
import { type LifeParameters, type LifeTables, lifeTables } from '@/lib/model/life-table'
import { lifeAt, statedNodes } from '@/lib/model/parameter-nodes'
import { renewedLife } from '@/lib/scoring/life-start'
import reference from '../reference/age-replacement.json'

const LIFE = { shape: 3, scale: 150_000, pfMean: 9_000 }
const alone = (life: LifeParameters): LifeTables => lifeTables([life], [1])

function spread(life: LifeParameters): LifeTables {
  const nodes = statedNodes(life, { logScale: 0.3, logShape: 0.2, logPfMean: 0.3 })
  return lifeTables(
    Array.from(nodes.weight, (_, k) => lifeAt(nodes, k)),
    nodes.weight,
  )
}

const USE = { ageing: 1, parts: 10, unitsPerYear: 200_000 }

const groundOf = (more: Partial<PolicyGround> = {}): PolicyGround => ({
  nodes: alone(LIFE),
  central: alone(LIFE),
  centralLife: LIFE,
  cost: { planned: 300, unplanned: 1_800 },
  success: 0.97,
  interval: 60_000,
  uses: [USE],
  slotDays: 14,
  shown: { developing: 0.25, sound: 0.002 },
  ...more,
})

function weighed(ground: PolicyGround) {
  const result = weighPolicies(ground)
  if (!result.ok) throw new Error(result.reason)
  return {
    ...result,
    of: (name: PolicyName) => result.outcomes.find(({ policy }) => policy === name)!,
  }
}

/** Parts that are all new, lived through for so long that how they began is forgotten. */
function livedLong(ground: PolicyGround, rounds: number) {
  const part: PartNow = {
    nodes: renewedLife(ground.nodes, ground.success),
    central: renewedLife(ground.central, ground.success),
    ...{ failed: false, ran: 0, ageing: 1, slot: (20_000 * 14) / 365.25 },
  }
  const parts = Array.from({ length: 10 }, () => part)
  return simulatePolicies(ground, parts, { years: 150, rounds, seed: 5, parts: 10 })!
}

describe('in the long run', () => {
  it.each(reference.cases.filter((c) => c.finite !== undefined && c.tStar !== undefined))(
    'costs what age replacement has elsewhere: $id',
    (c) => {
      const life = { shape: c.shape, scale: c.scale, pfMean: c.delta }
      const uses = [{ ageing: 1, parts: 1, unitsPerYear: 1 }]
      const cost = { planned: c.cp, unplanned: c.cf }
      const ground = { nodes: alone(life), central: alone(life), centralLife: life, cost, uses, success: 1 }
      const { of, bestIsFailure } = weighed(groundOf({ ...ground, interval: null }))
      expect(bestIsFailure).toBe(!c.finite)
      expect(of('optimum').cost.mean / c.gStar!).toBeCloseTo(1, 5)
      if (typeof c.gInfinity === 'number') expect(of('failure').cost.mean / c.gInfinity).toBeCloseTo(1, 5)
    },
  )

  it('comes to what parts come to that are lived through one by one', () => {
    const ground = groundOf()
    const { outcomes } = weighed(ground)
    const lived = livedLong(ground, 8)
    for (const { policy, cost, failures, replaced } of lived) {
      const told = outcomes.find((each) => each.policy === policy)!
      expect([policy, cost.mean / told.cost.mean > 0.94, cost.mean / told.cost.mean < 1.06]).toEqual([
        policy,
        true,
        true,
      ])
      const yearly = told.failures.mean + told.replaced.mean
      expect(Math.abs(failures.mean - told.failures.mean) / yearly).toBeLessThan(0.06)
      expect(Math.abs(replaced.mean - told.replaced.mean) / yearly).toBeLessThan(0.06)
    }
  })

  it('costs least by the best interval of all intervals, and less still where signs tell', () => {
    const { of } = weighed(groundOf())
    expect(of('optimum').cost.mean).toBeLessThan(of('interval').cost.mean)
    expect(of('optimum').cost.mean).toBeLessThan(of('failure').cost.mean)
    expect(of('signs').cost.mean).toBeLessThan(of('optimum').cost.mean)
    const unseen = weighed(groundOf({ shown: { developing: 0, sound: 0 } }))
    // Without signs the score knows the age alone: that is the best interval over again, to a slot.
    expect(unseen.of('signs').cost.mean / unseen.of('optimum').cost.mean).toBeCloseTo(1, 2)
    const blind = weighed(groundOf({ shown: { developing: 0.01, sound: 0.01 } }))
    expect(blind.of('signs').cost.mean).toBeCloseTo(unseen.of('signs').cost.mean, 6)
  })

  it('has no band where the life is known, and one about the mean where it is not', () => {
    const { of } = weighed(groundOf())
    expect(of('failure').failures.high).toBeCloseTo(of('failure').failures.low, 9)
    const unsure = weighed(groundOf({ nodes: spread(LIFE) }))
    for (const { cost, failures } of unsure.outcomes) {
      expect(cost.low).toBeLessThan(cost.mean)
      expect(cost.high).toBeGreaterThan(cost.mean)
      expect(failures.high).toBeGreaterThan(failures.low)
    }
  })

  it('sums over parts that are used otherwise, each at its own best interval', () => {
    const harder = { ageing: 1.4, parts: 5, unitsPerYear: 80_000 }
    const [one, other, both] = [[USE], [harder], [USE, harder]].map((uses) => weighed(groundOf({ uses })))
    for (const { policy, cost } of both!.outcomes)
      expect(cost.mean).toBeCloseTo(one!.of(policy).cost.mean + other!.of(policy).cost.mean, 6)
    expect(both!.of('optimum').interval).toBe(one!.of('optimum').interval)
    expect(other!.of('optimum').interval! * 1.4).toBeCloseTo(one!.of('optimum').interval!, 6)
  })

  it('says that a job without a price cannot be weighed, and that nothing beats running to failure', () => {
    expect(weighPolicies(groundOf({ cost: { planned: 0, unplanned: 0 } }))).toEqual({
      ok: false,
      reason: 'no-price',
    })
    const { bestIsFailure, of } = weighed(groundOf({ cost: { planned: 300, unplanned: 310 } }))
    expect(bestIsFailure).toBe(true)
    expect(of('optimum').cost.mean).toBeCloseTo(of('failure').cost.mean, 6)
  })
})

describe('parts that are lived through', () => {
  it('are lived through alike from the same seed, and count for all that are there', () => {
    const ground = groundOf({ nodes: spread(LIFE) })
    const part: PartNow = {
      nodes: renewedLife(ground.nodes, 1),
      central: renewedLife(ground.central, 1),
      ...{ failed: false, ran: 0, ageing: 1, slot: 800 },
    }
    const terms = { years: 5, rounds: 12, seed: 3, parts: 4 }
    const live = (parts: number) => simulatePolicies(ground, [part, part], { ...terms, parts })!
    expect(live(4)).toEqual(live(4))
    live(8).forEach(({ failures }, i) => {
      expect(failures.mean).toBeCloseTo(2 * live(4)[i]!.failures.mean, 9)
    })
    expect(simulatePolicies(ground, [], terms)).toBeNull()
  })

  it('count a part that has failed already, whatever is done', () => {
    const ground = groundOf()
    const failed: PartNow = {
      nodes: renewedLife(ground.nodes, 1),
      central: renewedLife(ground.central, 1),
      ...{ failed: true, ran: 0, ageing: 1, slot: 1 },
    }
    const terms = { years: 1, rounds: 4, seed: 3, parts: 1 }
    for (const { failures, replaced } of simulatePolicies(ground, [failed], terms)!)
      expect([failures.mean >= 1, replaced.mean]).toEqual([true, 0])
  })
})
