/** Plans of visits: against every plan there is, where that can be counted, and by the rules everywhere. */
import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import { leftOver } from '@/lib/decisions/plan-left'
import { checkPlanRequest, type PlanAsked, type PlanRequest } from '@/lib/decisions/plan-request'
import { brokenRules, makeVisit, type PlanVisit } from '@/lib/decisions/plan-value'
import { loadSolver, type Plan, planInSteps, planVisits } from '@/lib/decisions/plan-visits'
import { someRequest } from './plan-instances'

const EFFORT = { rounds: 1_000, nodes: 1_000, seconds: 10 }

let solver: Awaited<ReturnType<typeof loadSolver>>
beforeAll(async () => {
  solver = await loadSolver()
})

function checked(asked: PlanAsked): PlanRequest {
  const found = checkPlanRequest(asked)
  if (!found.ok) throw new Error(JSON.stringify(found.errors))
  return found.value
}

const gainOf = (visits: readonly PlanVisit[]) => visits.reduce((sum, { gain }) => sum + gain, 0)
const stopsOf = (request: PlanRequest, visits: readonly PlanVisit[]) => {
  const done = new Set(visits.flatMap(({ jobs }) => jobs))
  return request.jobs.filter(({ id, stop }) => stop && done.has(id)).length
}

/** The best of all plans with one visit a vehicle: every set of jobs of every vehicle in every bay and week. */
function bestOfAll(request: PlanRequest): { stops: number; gain: number } {
  const units = [...new Set(request.jobs.map(({ unit }) => unit))]
  let best = { stops: 0, gain: 0 }
  const pinsKept = (visits: PlanVisit[]) =>
    request.pinned.every((pin) => visits.some(({ unit, week }) => unit === pin.unit && week === pin.week))
  const go = (u: number, visits: PlanVisit[]) => {
    if (u === units.length) {
      if (!pinsKept(visits) || brokenRules(request, visits).length > 0) return
      const [stops, gain] = [stopsOf(request, visits), gainOf(visits)]
      if (stops > best.stops || (stops === best.stops && gain > best.gain)) best = { stops, gain }
      return
    }
    go(u + 1, visits)
    const jobs = request.jobs.filter(({ unit }) => unit === units[u])
    for (let set = 1; set < 1 << jobs.length; set++)
      for (let week = 0; week < request.weeks; week++)
        for (let bay = 0; bay < request.hours.length; bay++) {
          const chosen = jobs.filter((_, i) => set & (1 << i))
          const more = [...visits, makeVisit(request, { unit: units[u]!, week, bay }, chosen)]
          if (brokenRules(request, more).every(({ rule }) => rule === 'moved-from-pin')) go(u + 1, more)
        }
  }
  go(0, [])
  return best
}

/** The best of all plans with any number of visits: every job in every bay and week, or nowhere. */
function bestOfSeveral(request: PlanRequest): number {
  const places = request.hours.flatMap((ofBay, bay) => ofBay.map((_, week) => ({ bay, week })))
  let best = 0
  const at: number[] = []
  const go = (): void => {
    if (at.length < request.jobs.length) {
      for (let place = -1; place < places.length; place++) {
        at.push(place)
        go()
        at.pop()
      }
      return
    }
    const visits = new Map<string, { unit: string; place: number; jobs: typeof request.jobs }>()
    at.forEach((place, j) => {
      if (place < 0) return
      const job = request.jobs[j]!
      const visit = visits.get(`${job.unit} ${place}`) ?? { unit: job.unit, place, jobs: [] }
      visits.set(`${job.unit} ${place}`, { ...visit, jobs: [...visit.jobs, job] })
    })
    const made = [...visits.values()].map(({ unit, place, jobs }) =>
      makeVisit(request, { unit, ...places[place]! }, jobs),
    )
    if (gainOf(made) > best && brokenRules(request, made).length === 0) best = gainOf(made)
  }
  go()
  return best
}

describe('small plans', () => {
  const small = (seed: number): PlanAsked => ({
    ...someRequest(seed, { jobs: 6, weeks: 2, bays: 2, bayHours: 5, jobsEach: 2, stopShare: 0.25 }),
    keptForBreakdowns: seed % 2 === 0 ? 0.2 : 0,
  })

  it.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])(
    'are the best of all there are, and their bound is that: seed %i',
    (seed) => {
      const request = checked(small(seed))
      const best = bestOfAll(request)
      const plan = planVisits(request, { solver, effort: EFFORT })
      expect(brokenRules(request, plan.visits)).toEqual([])
      expect(stopsOf(request, plan.visits)).toBe(best.stops)
      expect(plan.gain).toBeCloseTo(best.gain, 6)
      expect(plan.bound).toBeGreaterThanOrEqual(best.gain - 1e-6)
      expect(plan.bound - best.gain).toBeLessThan(1e-4 * Math.max(1, best.gain))
    },
  )

  it.each([1, 2, 3, 4])('with pinned, forbidden, late and booked: seed %i', (seed) => {
    const asked = small(seed)
    const [one, other] = [...new Set(asked.jobs.map(({ unit }) => unit))]
    const request = checked({
      ...asked,
      jobs: asked.jobs.map((job, j) => ({ ...job, partsInWeek: j % 3 === 0 ? 1 : 0 })),
      forbidden: [{ unit: one!, week: 0, why: 'away' }],
      booked: [{ unit: other!, week: 1, bay: 0, hours: 1 }],
    })
    const best = bestOfAll(request)
    const plan = planVisits(request, { solver, effort: EFFORT })
    expect(brokenRules(request, plan.visits)).toEqual([])
    expect(stopsOf(request, plan.visits)).toBe(best.stops)
    expect(plan.gain).toBeCloseTo(best.gain, 6)
  })

  it.each([1, 2, 3, 4, 5, 6])(
    'with two visits a vehicle gain no more than the best of all, nor does that pass the bound: seed %i',
    (seed) => {
      const asked = someRequest(seed, { jobs: 5, weeks: 2, bays: 2, bayHours: 6, jobsEach: 3, stopShare: 0 })
      const request = checked({ ...asked, visit: 30, visitsEach: 2 })
      const plan = planVisits(request, { solver, effort: EFFORT })
      expect(brokenRules(request, plan.visits)).toEqual([])
      const best = bestOfSeveral(request)
      expect(plan.gain).toBeLessThanOrEqual(best + 1e-6)
      expect(plan.bound).toBeGreaterThanOrEqual(best - 1e-6)
      // Each round plans as if there were no other, which is not always best.
      expect(plan.gain).toBeGreaterThan(0.9 * best)
    },
  )

  it('say that a pinned visit cannot be kept, and propose no other over people’s heads', () => {
    // With seed 2 a fifth is kept for breakdowns: of 5 hours 4 are left, and the job takes 4.75.
    const first = small(2).jobs[0]!
    const request = checked({ ...small(2), pinned: [{ unit: first.unit, week: 1, jobs: [first.id] }] })
    const plan = planVisits(request, { solver, effort: EFFORT })
    expect(plan.visits.some(({ unit }) => unit === first.unit)).toBe(false)
    expect(plan.visits.length).toBeGreaterThan(0)
    expect(leftOver(request, plan.visits).lostPins).toEqual([{ unit: first.unit, week: 1, why: 'too-long' }])
  })

  it('keep a pinned visit with the jobs agreed on, at the least that this costs', () => {
    for (const seed of [1, 3, 5, 7]) {
      const asked = { ...small(seed), jobs: small(seed).jobs.map((job) => ({ ...job, stop: false })) }
      const first = asked.jobs[0]!
      const request = checked({ ...asked, pinned: [{ unit: first.unit, week: 1, bay: 1, jobs: [first.id] }] })
      const plan = planVisits(request, { solver, effort: EFFORT })
      expect(brokenRules(request, plan.visits)).toEqual([])
      const kept = plan.visits.find(({ unit }) => unit === first.unit)
      expect(kept).toMatchObject({ week: 1, bay: 1 })
      expect(kept!.jobs).toContain(first.id)
      expect(plan.gain).toBeCloseTo(bestOfAll(request).gain, 6)
    }
  })
})

describe('any plan', () => {
  const requests = fc.record({
    seed: fc.integer({ min: 1, max: 1e6 }),
    jobs: fc.integer({ min: 0, max: 30 }),
    weeks: fc.integer({ min: 1, max: 5 }),
    bays: fc.integer({ min: 0, max: 3 }),
    bayHours: fc.integer({ min: 0, max: 20 }),
    stopShare: fc.constantFrom(0, 0.1, 0.5),
    visitsEach: fc.constantFrom(1, 1, 2, 3),
    kept: fc.constantFrom(0, 0.2, 1),
  })

  it('keeps every rule at every step, gains what it says, never more than its bound, and never less than before', () => {
    fc.assert(
      fc.property(requests, ({ seed, visitsEach, kept, ...size }) => {
        const asked = { ...someRequest(seed, size), visitsEach, keptForBreakdowns: kept }
        const request = checked({ ...asked, ...somethingSettled(asked, seed) })
        let last: Plan | null = null
        const steps = planInSteps(request, { solver: null, effort: EFFORT })
        for (let step = steps.next(); !step.done; step = steps.next()) {
          const plan = step.value
          expect(brokenRules(request, plan.visits)).toEqual([])
          expect(plan.gain).toBeCloseTo(gainOf(plan.visits), 6)
          expect(plan.gain).toBeLessThanOrEqual(plan.bound)
          if (
            last &&
            request.pinned.length === 0 &&
            stopsOf(request, last.visits) === stopsOf(request, plan.visits)
          ) {
            expect(plan.gain).toBeGreaterThanOrEqual(last.gain - 1e-6)
          }
          if (last)
            expect(
              stopsOf(request, plan.visits) >= stopsOf(request, last.visits) || request.pinned.length > 0,
            ).toBe(true)
          if (last && visitsEach === 1) expect(plan.bound).toBeLessThanOrEqual(last.bound + 1e-6)
          last = plan
        }
      }),
      { numRuns: 40, seed: 4 },
    )
  })

  it('has no lower a bound and no lower a gain with more hours, where both are solved to the end', () => {
    for (const seed of [1, 2, 3, 4]) {
      const asked = someRequest(seed, { jobs: 16, weeks: 3, bays: 2, bayHours: 6, stopShare: 0 })
      const more = { ...asked, hours: asked.hours.map((ofBay) => ofBay.map((hours) => hours + 2)) }
      const [less, with2] = [asked, more].map((each) => planVisits(checked(each), { solver, effort: EFFORT }))
      expect(with2!.bound).toBeGreaterThanOrEqual(less!.bound - 1e-4 * less!.bound)
      expect(with2!.gain).toBeGreaterThanOrEqual(less!.gain - 1e-4 * less!.bound)
    }
  })

  it('comes to the same twice, and is there at once when there is no time', () => {
    const request = checked(someRequest(5, { jobs: 120, weeks: 6, bays: 2, bayHours: 20 }))
    const effort = { ...EFFORT, seconds: 0 }
    expect(planVisits(request, { solver: null, effort })).toEqual(
      planVisits(request, { solver: null, effort }),
    )
    const hasty = planVisits(request, { solver, goOn: () => false })
    expect(hasty.visits.length).toBeGreaterThan(10)
    expect(brokenRules(request, hasty.visits)).toEqual([])
    expect(hasty.bound).toBeLessThan(Number.POSITIVE_INFINITY)
  })

  it('starts from another one where it holds', () => {
    const request = checked(someRequest(6, { jobs: 60, weeks: 4, bays: 2, bayHours: 14 }))
    const good = planVisits(request, { solver: null })
    const again = planVisits(request, { solver: null, effort: { ...EFFORT, rounds: 0 }, start: good.visits })
    expect(again.gain).toBeGreaterThanOrEqual(good.gain - 1e-6)
  })
})

/** One vehicle pinned, one kept away, one there for other work: by chance, and not always possible. */
function somethingSettled(asked: PlanAsked, seed: number): Partial<PlanAsked> {
  const units = [...new Set(asked.jobs.map(({ unit }) => unit))]
  const bays = asked.hours.length
  if (units.length < 3 || bays === 0 || seed % 2 === 0) return {}
  const week = seed % asked.weeks
  return {
    pinned: [{ unit: units[0]!, week, bay: seed % 3 === 0 ? seed % bays : null }],
    forbidden: [{ unit: units[1]!, week, why: 'away' }],
    booked: [{ unit: units[2]!, week, bay: 0, hours: 2 }],
  }
}

describe('what is no request', () => {
  const good: PlanAsked = someRequest(1, { jobs: 2, weeks: 2, bays: 1, bayHours: 8 })
  const wrong: [string, PlanAsked, string, RegExp][] = [
    ['a negative price', { ...good, visit: -1 }, 'visit', /-1/],
    ['no number', { ...good, labourRate: Number.NaN }, 'labourRate', /number/],
    ['too few weeks of hours', { ...good, hours: [[8]] }, 'hours[0]', /each of the 2 weeks/],
    ['a job twice', { ...good, jobs: [good.jobs[0]!, good.jobs[0]!] }, 'jobs[1].id', /no other job/],
    [
      'a bay that is not',
      { ...good, booked: [{ unit: null, week: 0, bay: 1, hours: 1 }] },
      'booked[0].bay',
      /1 bays/,
    ],
    [
      'a pin on another vehicle’s job',
      { ...good, pinned: [{ unit: 'X', week: 0, jobs: ['J0'] }] },
      'pinned[0].jobs',
      /jobs of X/,
    ],
    [
      'a gain without end',
      { ...good, jobs: [{ ...good.jobs[0]!, gainByWeek: [Number.POSITIVE_INFINITY, 0] }] },
      'jobs[0].gainByWeek[0]',
      /number/,
    ],
  ]

  it.each(wrong)('is refused in words: %s', (_, asked, place, message) => {
    const found = checkPlanRequest(asked)
    expect(found.ok).toBe(false)
    if (found.ok) return
    expect(found.errors[0]!.place).toBe(place)
    expect(found.errors[0]!.message).toMatch(message)
  })

  it('is not one without bays, hours or jobs: these make an empty plan', () => {
    for (const asked of [
      { ...good, hours: [] },
      { ...good, hours: [[0, 0]] },
      { ...good, jobs: [] },
    ]) {
      const plan = planVisits(checked(asked), { solver, effort: EFFORT })
      expect(plan).toMatchObject({ visits: [], gain: 0, bound: 0 })
    }
  })
})
