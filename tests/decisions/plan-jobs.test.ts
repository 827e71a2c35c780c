/** What each job gains by week: from its definition, where a part is going, new, failed, due, or harms others below. */
import { describe, expect, it } from 'vitest'
import { type AdviceGround, rateOf } from '@/lib/decisions/advice'
import { jobCost, longRunRates, pricesOf } from '@/lib/decisions/costs'
import { planJobId, planJobs } from '@/lib/decisions/plan-jobs'
import { checkPlanRequest } from '@/lib/decisions/plan-request'
import { leaveUntil, lossOfLeaving } from '@/lib/decisions/waiting'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { engine, followOne, type History, KM_PER_DAY, opened, point } from '../scoring/one-vehicle'

const cost = { parts: 180, hours: 1.5, sharedHours: 1, failureExtra: 600, daysOff: 2 }
const injector = (more: object = {}) =>
  point('injector', 90_000, 180_000, 8_000, { positions: 4, cost, access: 'rail', ...more })

function groundOf(library: ReturnType<typeof engine>, km: number, history: History): AdviceGround {
  const one = followOne(library, km, history)
  const prices = pricesOf({ ...library, visit: 60 }, DEFAULT_SETTINGS)
  const { followed: vehicle, clock, parameters } = one
  return { vehicle, clock, parameters, prices, settings: DEFAULT_SETTINGS, rates: longRunRates(prices) }
}

const going: History = [[149_000, opened('injector', 'developing', { positions: [3] })]]

describe('the jobs of a vehicle', () => {
  it('gain K(H) − L(w): what leaving the part until after the plan costs more than until that week', () => {
    const ground = groundOf(engine([injector()]), 150_000, going)
    const third = planJobs('T1', ground, { weeks: 8 }).find(({ positions }) => positions[0] === 3)!
    expect(third).toMatchObject({ hours: 1.5, sharedHours: 1, access: 'rail', stop: false })
    const c = 2
    const { weakPoint } = ground.vehicle.belief.beliefs[c]!.component
    // Simpson's steps between moments are finer here, and every day after the end of the plan is tried for eight years.
    const days = Array.from({ length: 3_000 }, (_, day) => day)
    const nodes = ground.vehicle.belief.beliefs[c]!.currentNodes()
    const leaving = leaveUntil(
      nodes,
      days.map((day) => day * KM_PER_DAY),
    )
    const losses = days.map((day) =>
      lossOfLeaving(leaving, day, jobCost(weakPoint, ground.prices), rateOf(ground, weakPoint, c)),
    )
    const least = Math.min(...losses.slice(56))
    third.gainByWeek.forEach((gain, week) => {
      // The moments tried are coarser than days: what they miss of the least is little.
      expect(gain).toBeGreaterThanOrEqual(least - losses[7 * week]! - 0.5)
      expect(gain).toBeLessThan(least - losses[7 * week]! + 5)
    })
    for (let week = 1; week < 8; week++)
      expect(third.gainByWeek[week]).toBeLessThan(third.gainByWeek[week - 1]!)
  })

  it('leave out new parts, and are none where nothing is a reason to come', () => {
    expect(planJobs('T1', groundOf(engine([injector()]), 4_000, []), { weeks: 8 })).toEqual([])
  })

  it('are those of all that gain something or share labour, and gain as much as where all are told', () => {
    for (const km of [60_000, 150_000, 220_000]) {
      const ground = groundOf(engine([injector()]), km, [
        [km - 1_000, opened('injector', 'developing', { positions: [3] })],
      ])
      const agreed = new Set([1, 2, 3, 4].map((position) => planJobId('T1', 'injector', position)))
      const all = planJobs('T1', ground, { weeks: 8, agreed })
      expect(all.length).toBe(4)
      const { planned } = jobCost(ground.vehicle.belief.beliefs[0]!.component.weakPoint, ground.prices)
      const labour = ground.prices.labourRate
      const wanted = all.filter(({ gainByWeek }) => {
        const gain = Math.max(...gainByWeek)
        return gain + labour > 0 && gain > -0.75 * planned
      })
      expect(planJobs('T1', ground, { weeks: 8 })).toEqual(wanted)
    }
  })

  it('gain the days that a failed part keeps the vehicle off the road, until the end of the plan', () => {
    const failed: History = [[149_000, opened('injector', 'failed', { positions: [3] })]]
    const [third] = planJobs('T1', groundOf(engine([injector()]), 150_000, failed), { weeks: 2 }).filter(
      ({ positions }) => positions[0] === 3,
    )
    expect(third!.gainByWeek).toEqual([14 * 120, 7 * 120])
  })

  it('share those days where two parts keep it there', () => {
    const failed: History = [[149_000, opened('injector', 'failed', { positions: [2, 3] })]]
    const jobs = planJobs('T1', groundOf(engine([injector()]), 150_000, failed), { weeks: 2 })
    const both = jobs.filter(({ positions }) => positions[0] === 2 || positions[0] === 3)
    expect(both.map(({ gainByWeek }) => gainByWeek[0])).toEqual([7 * 120, 7 * 120])
  })

  it('gain the damage below that is avoided: more where the part harms a neighbour', () => {
    const pump = point('pump', 120_000, 200_000, 6_000, {
      cost: { parts: 900, hours: 4, failureExtra: 2_000 },
    })
    const upstream = [{ from: 'injector', to: 'pump', strength: 3 }]
    const gainOf = (library: ReturnType<typeof engine>) =>
      planJobs('T1', groundOf(library, 150_000, going), { weeks: 4 }).find(
        ({ weakPoint, positions }) => weakPoint === 'injector' && positions[0] === 3,
      )!.gainByWeek
    const [alone, linked] = [
      gainOf(engine([injector(), pump])),
      gainOf(engine([injector(), pump], [], { upstream })),
    ]
    const avoided = linked.map((gain, week) => gain - alone[week]!)
    expect(avoided[0]).toBeGreaterThan(1)
    // In proportion to the weeks that are left.
    avoided.forEach((each, week) => {
      expect(each).toBeCloseTo((avoided[0]! * (4 - week)) / 4, 6)
    })
  })

  it('must be done first where the vehicle must not be driven, and wait for parts that come later', () => {
    const ground = groundOf(engine([injector({ harm: true, part: 'INJ' })]), 150_000, going)
    const jobs = planJobs('T1', ground, { weeks: 4, partsInWeek: (part) => (part === 'INJ' ? 2 : 0) })
    const third = jobs.find(({ positions }) => positions[0] === 3)!
    expect(third.partsInWeek).toBe(2)
    expect(third.stop).toBe(true)
    const checked = checkPlanRequest({ weeks: 4, hours: [[8, 8, 8, 8]], jobs })
    expect(checked.ok).toBe(true)
  })
})
