/** Bundles against every set of jobs there is, and what no bundle may do. */
import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  type BundleCandidate,
  type BundleTerms,
  bundleOf,
  byBayHour,
  chooseBundle,
} from '@/lib/decisions/bundle'

const job = (more: Partial<BundleCandidate> = {}): BundleCandidate => ({
  weakPoint: 'pump',
  position: 1,
  gain: 0,
  gainBand: { low: (more.gain ?? 0) - 50, high: (more.gain ?? 0) + 50 },
  cost: 400,
  due: (more.gain ?? 0) > 0,
  stop: false,
  hours: 1,
  sharedHours: 0,
  access: null,
  part: null,
  ...more,
})

const somePrice = (min: number, max: number) =>
  fc.integer({ min: min * 4, max: max * 4 }).map((quarters) => quarters / 4)

const someJob = fc
  .record({
    gain: somePrice(-250, 150),
    cost: somePrice(50, 400),
    hours: somePrice(1, 6),
    sharedHours: somePrice(0, 1),
    access: fc.constantFrom(null, 'front', 'rail'),
    part: fc.constantFrom(null, 'A-1', 'B-2'),
    isStop: fc.integer({ min: 0, max: 7 }),
  })
  .map(({ isStop, ...each }) => job({ ...each, stop: isStop === 0 }))

const someTerms: fc.Arbitrary<BundleTerms> = fc
  .record({
    visit: somePrice(0, 120),
    labourRate: fc.constantFrom(0, 80),
    hereNow: fc.boolean(),
    hoursFree: fc.oneof(fc.constant(Number.POSITIVE_INFINITY), somePrice(0, 12)),
    shelf: fc.option(fc.integer({ min: 0, max: 2 })),
  })
  .map(({ shelf, ...terms }) =>
    shelf === null
      ? terms
      : {
          ...terms,
          onShelf: new Map([
            ['A-1', shelf],
            ['B-2', 1],
          ]),
        },
  )

/** The definition, written out: stop jobs first, then money. */
function byBruteForce(jobs: BundleCandidate[], terms: BundleTerms): { stops: number; saving: number } | null {
  let best: { stops: number; saving: number } | null = null
  for (let set = 1; set < 1 << jobs.length; set++) {
    const members = jobs.filter((_, i) => set & (1 << i))
    if (!members.some(({ due, stop }) => due || stop)) continue
    if (members.some((each) => !each.due && !each.stop && each.gain <= -0.75 * each.cost)) continue
    const saved = ['front', 'rail'].reduce((sum, access) => {
      const shared = members.filter((each) => each.access === access).map(({ sharedHours }) => sharedHours)
      return sum + shared.reduce((a, b) => a + b, 0) - Math.max(0, ...shared)
    }, 0)
    const hours = members.reduce((sum, each) => sum + each.hours, 0) - saved
    if (hours > (terms.hoursFree ?? Number.POSITIVE_INFINITY) + 1e-6) continue
    if (terms.onShelf && !isOnShelf(members, terms.onShelf)) continue
    const visits = terms.hereNow ? members.length : members.length - 1
    const saving =
      members.reduce((sum, { gain }) => sum + gain, 0) + visits * terms.visit + saved * terms.labourRate
    const stops = members.filter(({ stop }) => stop).length
    if (!best || stops > best.stops || (stops === best.stops && saving > best.saving))
      best = { stops, saving }
  }
  return best
}

/** What the vehicle must not be driven without is got at once. */
const isOnShelf = (members: BundleCandidate[], shelf: ReadonlyMap<string, number>) =>
  ['A-1', 'B-2'].every((part) => {
    const taken = members.filter((each) => each.part === part && !each.stop)
    return taken.length <= (shelf.get(part) ?? 0)
  })

describe('a bundle', () => {
  it('saves as much as the best of all sets, with the same stop jobs', () => {
    const runs = Number(process.env.LONG_TESTS ? 4000 : 300)
    fc.assert(
      fc.property(fc.array(someJob, { maxLength: 10 }), someTerms, (jobs, terms) => {
        const found = chooseBundle(jobs, terms)
        const best = byBruteForce(jobs, terms)
        expect(found === null).toBe(best === null)
        if (!found || !best) return
        expect(found.exact).toBe(true)
        expect(found.members.filter(({ stop }) => stop).length).toBe(best.stops)
        expect(found.saving).toBeCloseTo(best.saving, 6)
        expect(found.hours).toBeLessThanOrEqual((terms.hoursFree ?? Number.POSITIVE_INFINITY) + 1e-6)
      }),
      { numRuns: runs },
    )
  })

  it('is the best of all sets of twelve jobs as well', () => {
    fc.assert(
      fc.property(fc.array(someJob, { minLength: 12, maxLength: 12 }), someTerms, (jobs, terms) => {
        const best = byBruteForce(jobs, terms)
        expect(chooseBundle(jobs, terms)?.saving ?? null).toEqual(best && expect.closeTo(best.saving, 6))
      }),
      { numRuns: 15 },
    )
  })

  it('takes no more of a part than there is on the shelf, but for a vehicle that must not be driven', () => {
    const jobs = [1, 2, 3].map((position) => job({ position, gain: 100 - position, part: 'A-1' }))
    const terms = { visit: 60, labourRate: 80, onShelf: new Map([['A-1', 2]]) }
    expect(chooseBundle(jobs, terms)?.members.map(({ position }) => position)).toEqual([1, 2])
    const bare = { ...terms, onShelf: new Map<string, number>() }
    expect(chooseBundle(jobs, bare)).toBeNull()
    expect(chooseBundle([{ ...jobs[0]!, stop: true }], bare)?.members).toHaveLength(1)
  })

  it('is what an hour of sharing and a visit are worth, reckoned by hand', () => {
    const pump = job({ gain: 120, hours: 3, sharedHours: 2, access: 'front' })
    const belt = job({
      weakPoint: 'belt',
      gain: -150,
      hours: 2.5,
      sharedHours: 1.5,
      access: 'front',
      cost: 300,
    })
    const found = chooseBundle([pump, belt], { visit: 60, labourRate: 80 })
    // −150 + a visit of 60 + 1.5 shared hours at 80 = +30.
    expect(found).toMatchObject({
      hours: 4,
      hoursSaved: 1.5,
      saving: 150,
      savingBand: { low: 50, high: 250 },
    })
    expect(chooseBundle([pump, { ...belt, access: null }], { visit: 60, labourRate: 80 })?.saving).toBe(120)
  })

  it('asks for something that is due: a visit alone is no reason', () => {
    const jobs = [job({ gain: -20, due: false }), job({ position: 2, gain: -20, due: false })]
    expect(chooseBundle(jobs, { visit: 100, labourRate: 80 })).toBeNull()
    expect(chooseBundle(jobs, { visit: 100, labourRate: 80, hereNow: true })).toBeNull()
  })

  it('saves one visit more where the vehicle is there anyway', () => {
    const jobs = [job({ gain: 30 }), job({ position: 2, gain: -40 })]
    const terms = { visit: 60, labourRate: 80 }
    expect(chooseBundle(jobs, terms)!.saving).toBe(50)
    expect(chooseBundle(jobs, { ...terms, hereNow: true })!.saving).toBe(110)
  })

  it('has a part that must not be driven with in it, whatever it costs', () => {
    const jobs = [job({ gain: 80 }), job({ weakPoint: 'hose', gain: -500, stop: true })]
    expect(chooseBundle(jobs, { visit: 60, labourRate: 80 })?.members).toHaveLength(2)
  })

  it('leaves a sound part as good as new, however dear the visit is', () => {
    const fresh = job({ position: 2, gain: -95, cost: 100 })
    const found = chooseBundle([job({ gain: 10 }), fresh], { visit: 1000, labourRate: 80 })
    expect(found?.members.map(({ position }) => position)).toEqual([1])
  })

  it('is found among forty jobs, and is no worse than every set with one job more, less or another', () => {
    fc.assert(
      fc.property(fc.array(someJob, { minLength: 40, maxLength: 40 }), someTerms, (jobs, terms) => {
        const found = chooseBundle(jobs, terms)
        if (!found) return
        const stops = found.members.filter(({ stop }) => stop).length
        for (const each of jobs) {
          const isIn = found.members.includes(each)
          const other = isIn ? found.members.filter((m) => m !== each) : [...found.members, each]
          const changed = bundleOf(other, terms, false)
          const isAllowed =
            other.some(({ due, stop }) => due || stop) &&
            changed.hours <= terms.hoursFree! + 1e-6 &&
            other.filter(({ stop }) => stop).length >= stops &&
            (!terms.onShelf || isOnShelf(other, terms.onShelf)) &&
            (isIn || each.due || each.stop || each.gain > -0.75 * each.cost)
          if (found.exact && isAllowed && other.filter(({ stop }) => stop).length === stops)
            expect(changed.saving).toBeLessThanOrEqual(found.saving + 1e-6)
        }
      }),
      { numRuns: 10 },
    )
  })
})

describe('several bundles', () => {
  it('stand by what they save an hour of a bay', () => {
    const bundles = [
      { saving: 100, hours: 4 },
      { saving: 90, hours: 1 },
      { saving: 10, hours: 0 },
      { saving: -5, hours: 2 },
    ]
    expect(byBayHour(bundles).map(({ saving }) => saving)).toEqual([10, 90, 100, -5])
  })
})
