import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { FollowedTime } from '@/lib/model/followed-time'
import { lastingAt, lastingShare } from '@/lib/model/lasting-share'

const at = (age: number, entry = 0): FollowedTime => ({ entry, after: age, by: age })
const ended = (age: number, entry = 0): FollowedTime => ({ entry, after: age, by: Number.POSITIVE_INFINITY })
const between = (after: number, by: number, entry = 0): FollowedTime => ({ entry, after, by })

function stepsOf(times: FollowedTime[]) {
  const share = lastingShare(times)
  if (!share.ok) throw new Error(share.reason)
  return share.steps
}

describe('moments that are known', () => {
  it('is the share that is left where all were followed to the end', () => {
    const binomial = (share: number) => expect.closeTo(Math.sqrt((share * (1 - share)) / 4), 12)
    expect(stepsOf([at(3), at(1), at(2), at(2)])).toEqual([
      { age: 1, lasts: 0.75, error: binomial(0.75) },
      { age: 2, lasts: expect.closeTo(0.25, 12), error: binomial(0.25) },
      { age: 3, lasts: 0, error: 0 },
    ])
  })

  it('counts whoever left at the moment of an event as at risk then, and whoever comes then as not', () => {
    expect(stepsOf([at(2), ended(2), ended(5)])[0]!.lasts).toBeCloseTo(2 / 3, 12)
    expect(stepsOf([at(2), ended(5, 2), ended(5)])[0]!.lasts).toBeCloseTo(1 / 2, 12)
  })

  it('has no step where nothing happened, or nothing was followed', () => {
    expect(stepsOf([])).toEqual([])
    expect(stepsOf([ended(4), ended(7, 2)])).toEqual([])
  })

  it('is the product limit, counted by hand', () => {
    fc.assert(
      fc.property(fc.array(knownTime(), { maxLength: 30 }), (times) => {
        const steps = stepsOf(times)
        for (let age = 0; age <= 12; age++)
          expect(lastingAt(steps, age)).toBeCloseTo(productLimitByHand(times, age), 10)
      }),
    )
  })
})

describe('events between two looks', () => {
  it('stands at the end of the stretch in which nobody can tell when', () => {
    expect(stepsOf([between(2, 5), between(2, 5), ended(6)])).toEqual([
      { age: 5, lasts: expect.closeTo(1 / 3, 6), error: expect.closeTo(Math.sqrt(2 / 27), 6) },
    ])
  })

  it('follows what is known of others', () => {
    const [first, second] = stepsOf([between(0, 10), between(0, 4), between(6, 10)])
    expect([first!.age, second!.age]).toEqual([4, 10])
    expect(first!.lasts).toBeCloseTo(0.5, 4)
  })

  it('is as likely as anything that a search over all stretches finds', () => {
    fc.assert(
      fc.property(fc.array(anyTime(), { minLength: 1, maxLength: 6 }), (times) => {
        const steps = stepsOf(times)
        // What begins to be followed where nothing lasts any more has no likelihood; rounds end when a step moves by
        // no more than 1e-7, so that less than ten times that may be nothing.
        fc.pre(times.every(({ entry }) => lastingAt(steps, entry) > 1e-6))
        const found = logLikelihood(times, chancesOf(steps))
        expect(found).toBeGreaterThan(likeliestBySearch(times) - 1e-4)
      }),
      { numRuns: 150 },
    )
  })

  it('does not depend on the order of the times, or on their unit', () => {
    fc.assert(
      fc.property(fc.array(anyTime(), { maxLength: 12 }), (times) => {
        const inMiles = times.map(({ entry, after, by }) => between(after / 2, by / 2, entry / 2))
        const steps = stepsOf(times)
        const others = stepsOf(inMiles.reverse())
        expect(others.map(({ age }) => age * 2)).toEqual(steps.map(({ age }) => age))
        for (const [i, { lasts }] of others.entries()) expect(lasts).toBeCloseTo(steps[i]!.lasts, 5)
      }),
    )
  })
})

it('settles where nothing lasts and others come later', () => {
  expect(stepsOf([between(0, 2), between(3, 4, 3), between(2, 6, 1)])).toEqual([
    { age: 1, lasts: 0, error: 0 },
  ])
})

it('settles where a step has shrunk to the smallest number there is', () => {
  const lookedFor = [
    between(0, 4),
    between(0, 1),
    between(0, 1),
    between(2, 4, 1),
    between(3, 4, 3),
    between(4, 7, 2),
    at(5),
    ended(5, 1),
    ended(7, 1),
  ]
  const steps = stepsOf(lookedFor)
  // Half of those left at 5 go there, and the one that is looked for from 4 to 7 is likeliest among them.
  expect(lastingAt(steps, 7) / lastingAt(steps, 4)).toBeCloseTo(1 / 2, 3)
})

it('never rises and stays between 0 and 1', () => {
  fc.assert(
    fc.property(fc.array(anyTime(), { maxLength: 40 }), (times) => {
      let before = 1
      for (const { lasts } of stepsOf(times)) {
        expect(lasts).toBeGreaterThanOrEqual(0)
        expect(lasts).toBeLessThanOrEqual(before)
        before = lasts
      }
    }),
  )
})

function knownTime() {
  return fc
    .record({
      entry: fc.integer({ min: 0, max: 5 }),
      more: fc.integer({ min: 1, max: 6 }),
      ends: fc.boolean(),
    })
    .map(({ entry, more, ends }) => (ends ? ended(entry + more, entry) : at(entry + more, entry)))
}

function anyTime() {
  return fc
    .record({ entry: fc.integer({ min: 0, max: 3 }), wait: fc.nat(3), more: fc.integer({ min: 1, max: 4 }) })
    .chain(({ entry, wait, more }) =>
      fc.constantFrom(
        between(entry + wait, entry + wait + more, entry),
        at(entry + wait + more, entry),
        ended(entry + wait + more, entry),
      ),
    )
}

/** Kaplan & Meier's product, term by term. */
function productLimitByHand(times: FollowedTime[], age: number): number {
  const moments = [...new Set(times.flatMap(({ after, by }) => (after === by && by <= age ? [by] : [])))]
  return moments.reduce((lasts, moment) => {
    const atRisk = times.filter(({ entry, after }) => entry < moment && after >= moment).length
    const gone = times.filter(({ after, by }) => after === by && by === moment).length
    return lasts * (1 - gone / atRisk)
  }, 1)
}

/** The chance of an event at each age, and of none at Infinity. */
type Chances = { age: number; chance: number }[]

function chancesOf(steps: ReturnType<typeof stepsOf>): Chances {
  let before = 1
  const chances = steps.map(({ age, lasts }) => {
    const chance = before - lasts
    before = lasts
    return { age, chance }
  })
  return [...chances, { age: Number.POSITIVE_INFINITY, chance: before }]
}

/** With every event at the end of its stretch; an age counts as in (after, by], one that is known as itself. */
function logLikelihood(times: FollowedTime[], chances: Chances): number {
  const sum = (holds: (age: number) => boolean) =>
    chances.reduce((total, { age, chance }) => total + (holds(age) ? chance : 0), 0)
  return times.reduce((total, { entry, after, by }) => {
    const here =
      after === by ? sum((age) => age === by) : sum((age) => age > after && (age <= by || by === age))
    return total + Math.log(here / sum((age) => age > entry))
  }, 0)
}

/**
 * The oracle: chances at every whole and half age (ages are whole, so a half stands for a stretch between) and beyond,
 * moved from one to another as long as that makes the times likelier.
 */
function likeliestBySearch(times: FollowedTime[]): number {
  const ages = [...Array.from({ length: 22 }, (_, i) => (i + 1) / 2), Number.POSITIVE_INFINITY]
  const chances = ages.map((age) => ({ age, chance: 1 / ages.length }))
  let best = logLikelihood(times, chances)
  for (let share = 0.5; share > 1e-3; ) {
    const gained = improve(times, chances, share, best)
    if (gained - best < 1e-7) share /= 2
    best = gained
  }
  return best
}

function improve(times: FollowedTime[], chances: Chances, share: number, from: number): number {
  let best = from
  for (const giver of chances)
    for (const taker of chances) {
      const moved = giver === taker ? 0 : giver.chance * share
      if (moved < 1e-9) continue
      giver.chance -= moved
      taker.chance += moved
      const now = logLikelihood(times, chances)
      if (now > best) best = now
      else {
        giver.chance += moved
        taker.chance -= moved
      }
    }
  return best
}
