/** Why a visit is where it is, what moving it costs, what is left, what more hours are worth, what slipped. */
import { describe, expect, it } from 'vitest'
import { leftOver, worthOfMoreHours } from '@/lib/decisions/plan-left'
import { checkPlanRequest, type PlanAsked, type PlanRequest } from '@/lib/decisions/plan-request'
import { slippedFrom } from '@/lib/decisions/plan-slipped'
import { brokenRules } from '@/lib/decisions/plan-value'
import { planVisits } from '@/lib/decisions/plan-visits'
import { moveVisit, whyThere, withMoved } from '@/lib/decisions/plan-why'
import { someRequest } from './plan-instances'

function checked(asked: PlanAsked): PlanRequest {
  const found = checkPlanRequest(asked)
  if (!found.ok) throw new Error(JSON.stringify(found.errors))
  return found.value
}

const job = (unit: string, hours: number, gainByWeek: number[], more: object = {}) => ({
  id: `${unit} job`,
  unit,
  weakPoint: 'pump',
  positions: [1],
  hours,
  sharedHours: 0,
  access: null,
  stop: false,
  gainByWeek,
  ...more,
})

/** One bay with 8 hours a week: A and B want the first week, and both do not fit. */
const two = {
  weeks: 3,
  hours: [[8, 8, 8]],
  visit: 50,
  jobs: [job('A', 6, [900, 600, 300]), job('B', 4, [400, 350, 300])],
}

const planOf = (asked: PlanAsked) => {
  const request = checked(asked)
  const plan = planVisits(request, { solver: null })
  const visitOf = (unit: string) => plan.visits.find((visit) => visit.unit === unit)!
  return { request, plan, visitOf }
}

describe('why a visit is where it is', () => {
  it('says which week would gain more, and whose visits fill it', () => {
    const { request, plan, visitOf } = planOf(two)
    expect(visitOf('A').week).toBe(0)
    const why = whyThere(request, plan.visits, visitOf('B'))
    expect(why.week).toBe(1)
    expect(why.better).toHaveLength(1)
    expect(why.better[0]).toMatchObject({ week: 0, feasible: false, difference: 50 })
    expect(why.better[0]!.obstacles).toEqual([{ reason: 'hours-full', needed: 4, free: 2, takenBy: ['A'] }])
    expect(why.instead).toMatchObject({ week: 2, feasible: true, difference: -50 })
    expect(whyThere(request, plan.visits, visitOf('A')).better).toEqual([])
  })

  it('says what people and parts have to do with it', () => {
    const { request, plan, visitOf } = planOf({
      ...two,
      jobs: [
        { ...two.jobs[0]!, partsInWeek: 1 },
        two.jobs[1]!,
        job('C', 2, [100, 90, 80], { stop: true, partsInWeek: 2 }),
      ],
      pinned: [{ unit: 'B', week: 2, why: 'promised' }],
    })
    const late = whyThere(request, plan.visits, visitOf('A'))
    expect(late.better[0]!.obstacles).toEqual([{ reason: 'part-late', jobs: ['A job'], inWeek: 1 }])
    const promised = whyThere(request, plan.visits, visitOf('B'))
    expect(promised.pinned).toBe('promised')
    expect(promised.better[0]!.obstacles).toContainEqual({ reason: 'promised', week: 2, bay: null })
    expect(whyThere(request, plan.visits, visitOf('C')).partsToGet).toEqual(['C job'])
  })
})

describe('moving a visit', () => {
  it('costs what the moved plan gains less, and can be done exactly where the moved plan keeps the rules', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const asked = someRequest(seed, { jobs: 14, weeks: 3, bays: 2, bayHours: 7 })
      const [unit, other] = [...new Set(asked.jobs.map((each) => each.unit))]
      const { request, plan } = planOf({
        ...asked,
        pinned: [{ unit: unit!, week: 1 }],
        forbidden: [{ unit: other!, week: 2 }],
        jobs: asked.jobs.map((each, j) => ({ ...each, partsInWeek: j % 4 === 0 ? 1 : 0 })),
      })
      const gain = (visits: typeof plan.visits) => visits.reduce((sum, visit) => sum + visit.gain, 0)
      for (const visit of plan.visits)
        for (let week = 0; week < request.weeks; week++)
          for (let bay = 0; bay < 2; bay++) {
            const moved = moveVisit(request, plan.visits, visit, { week, bay })
            const after = withMoved(request, plan.visits, visit, { week, bay })
            expect(moved.difference).toBeCloseTo(gain(after) - plan.gain, 6)
            expect(moved.feasible).toBe(brokenRules(request, after).length === 0)
          }
    }
  })
})

describe('what a plan leaves', () => {
  it('is a job that must be done and fits nowhere, first of all, and why', () => {
    const jobs = [...two.jobs, job('S', 9, [100, 90, 80], { stop: true }), job('N', 1, [20, 15, 10])]
    const { request, plan } = planOf({ ...two, jobs })
    const left = leftOver(request, plan.visits)
    expect(left.stops).toEqual([{ job: 'S job', unit: 'S', stop: true, why: 'too-long', gain: 50 }])
    expect(left.below).toEqual([
      { job: 'N job', unit: 'N', stop: false, why: 'not-worth-a-visit', gain: -30 },
    ])
    expect(left.lostPins).toEqual([])
  })

  it('says what one more bay day brings: at least nothing, and what it must where that is plain', () => {
    const { request, plan } = planOf(two)
    const more = worthOfMoreHours(request, plan, 8)
    // With a second bay in the first week B comes a week earlier; later ones bring nothing.
    expect(more.map(({ byPlanningAgain }) => byPlanningAgain)).toEqual([50, 0, 0])
  })

  it('says that a vehicle comes as often as it may, and is done on a second visit where it may come twice', () => {
    const asked = {
      ...two,
      jobs: [job('A', 6, [900, 600, 300]), { ...job('A', 5, [500, 450, 400]), id: 'A other' }],
    }
    const once = planOf(asked)
    expect(leftOver(once.request, once.plan.visits).below[0]).toMatchObject({
      job: 'A other',
      why: 'visits-used',
    })
    const twice = planOf({ ...asked, visitsEach: 2 })
    expect(twice.plan.gain).toBe(850 + 400)
    expect(twice.plan.bound).toBeLessThan(1.2 * twice.plan.gain)
    expect(leftOver(twice.request, twice.plan.visits).below).toEqual([])
  })

  it('says why others are below the line', () => {
    const jobs = [...two.jobs, job('C', 6, [200, 0, 0]), job('D', 2, [500, 0, 0], { partsInWeek: 2 })]
    const { request, plan } = planOf({
      ...two,
      jobs,
      forbidden: [0, 1, 2].map((week) => ({ unit: 'B', week })),
    })
    const why = Object.fromEntries(leftOver(request, plan.visits).below.map((each) => [each.unit, each.why]))
    expect(why).toEqual({ B: 'forbidden', C: 'no-hours', D: 'part-late' })
  })
})

describe('what slipped', () => {
  it('is told at today’s gains, the dearest first, without what is done already', () => {
    const { request, plan } = planOf({ ...two, jobs: [...two.jobs, job('C', 1, [200, 150, 100])] })
    const promised = [
      { week: 0, jobs: ['B job', 'gone job'] },
      { week: 2, jobs: ['A job'] },
      { week: -1, jobs: ['C job'] },
    ]
    expect(slippedFrom(request, promised, plan.visits)).toEqual([
      { job: 'B job', unit: 'B', promisedWeek: 0, week: 1, cost: 50 },
      { job: 'A job', unit: 'A', promisedWeek: 2, week: 0, cost: -600 },
    ])
    expect(slippedFrom(request, promised, [])[0]).toMatchObject({ job: 'B job', week: null, cost: 400 })
  })
})
