import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Cause, type Found, JointBelief } from '@/lib/model/joint-belief'
import { lifeTables } from '@/lib/model/life-table'
import { makeStrands, makeTransition, sum } from '@/lib/model/strands'
import { runs } from '../runs'

const still = lifeTables([{ shape: 2, scale: 1, pfMean: 0.1 }], [1])
const componentAt = (p: number) => makeStrands(still, [{ node: 0, age: 0, sound: 1 - p, developing: p }])
const FAIL_RATE = Float64Array.of(10)

type Event =
  | { sign: { causes: Cause[]; leak: number }; seen: boolean }
  | { component: number; found: Found }
  | { component: number; renewed: number }
  | { component: number; stay: number; begin: number; keep: number }

const N = 4
const p = fc.double({ min: 0.02, max: 0.9, noNaN: true })
const component = fc.integer({ min: 0, max: N - 1 })
const causes = fc
  .uniqueArray(component, { minLength: 1, maxLength: N })
  .chain((ids) => fc.tuple(...ids.map((id) => p.map((detect) => ({ component: id, detect })))))
const event: fc.Arbitrary<Event> = fc.oneof(
  fc.record({ sign: fc.record({ causes, leak: fc.constantFrom(0, 0.01, 0.1) }), seen: fc.boolean() }),
  fc.record({ component, found: fc.constantFrom<Found>('sound', 'developing', 'failed') }),
  fc.record({ component, renewed: fc.constantFrom(0.02, 0.3) }),
  fc.record({ component, stay: p, begin: p, keep: p }).map((m) => ({ ...m, begin: m.begin * (1 - m.stay) })),
)

/** The weights of all 2ⁿ states (bit set: developing), each event applied to every one of them. */
function bruteForce(priors: number[], events: Event[]): number[] | null {
  let states = Array.from({ length: 1 << N }, (_, state) =>
    priors.reduce((w, prior, c) => w * (state & (1 << c) ? prior : 1 - prior), 1),
  )
  for (const each of events) {
    states = applied(states, each)
    const total = states.reduce((a, b) => a + b, 0)
    if (!(total > 1e-12)) return null
    states = states.map((w) => w / total)
  }
  return states
}

function applied(states: number[], each: Event): number[] {
  if ('sign' in each) {
    return states.map((w, state) => {
      const silent = each.sign.causes.reduce(
        (q, c) => q * (state & (1 << c.component) ? 1 - c.detect : 1),
        1 - each.sign.leak,
      )
      return w * (each.seen ? 1 - silent : silent)
    })
  }
  const bit = 1 << each.component
  if ('found' in each) return states.map((w, state) => (!(state & bit) === (each.found === 'sound') ? w : 0))
  const pair = (state: number) => ({ sound: states[state & ~bit]!, developing: states[state | bit]! })
  return states.map((_, state) => {
    const { sound, developing } = pair(state)
    if ('renewed' in each) return (sound + developing) * (state & bit ? each.renewed : 1 - each.renewed)
    return state & bit ? developing * each.keep + sound * each.begin : sound * each.stay
  })
}

function tell(joint: JointBelief, each: Event): void {
  if ('sign' in each) {
    if (each.seen) joint.seen(each.sign.causes, each.sign.leak)
    else joint.absent(each.sign.causes, each.sign.leak)
  } else if ('found' in each) joint.found(each.component, each.found, FAIL_RATE)
  else if ('renewed' in each) joint.restart(each.component, componentAt(each.renewed))
  else {
    const transition = makeTransition(1)
    transition.stay[0] = each.stay
    transition.begin[0] = each.begin
    transition.keep[0] = each.keep
    joint.move(each.component, transition)
  }
}

const priors = fc.tuple(p, p, p, p)
const told = (at: number[], events: Event[], limit: number) => {
  const joint = new JointBelief(at.map(componentAt), limit)
  for (const each of events) tell(joint, each)
  return joint
}

describe('the joint belief', () => {
  it('is that over all joint states, after looks, findings, renewals and steps in any order', () => {
    fc.assert(
      fc.property(priors, fc.array(event, { maxLength: 9 }), (at, events) => {
        const states = bruteForce(at, events)
        fc.pre(states !== null)
        const joint = told(at, events, Number.POSITIVE_INFINITY)
        for (let c = 0; c < N; c++) {
          const expected = states!.reduce((a, w, state) => a + (state & (1 << c) ? w : 0), 0)
          expect(joint.developing(c)).toBeCloseTo(expected, 7)
        }
      }),
      { numRuns: runs(300), seed: 9 },
    )
  })

  it('does not depend on the order of looks', () => {
    const looks = fc.array(
      event.filter((e) => 'sign' in e && e.sign.leak > 0),
      { maxLength: 5 },
    )
    fc.assert(
      fc.property(priors, looks, (at, events) => {
        const [there, back] = [events, [...events].reverse()].map((order) => told(at, order, 1_000))
        for (let c = 0; c < N; c++) expect(there!.developing(c)).toBeCloseTo(back!.developing(c), 8)
      }),
      { numRuns: runs(150), seed: 10 },
    )
  })

  it('keeps masses of 1 however few hypotheses it may hold', () => {
    fc.assert(
      fc.property(priors, fc.array(event, { maxLength: 12 }), (at, events) => {
        const joint = told(at, events, 3)
        expect(joint.size).toBeLessThanOrEqual(3)
        expect(joint.table().reduce((a, h) => a + h.weight, 0)).toBeCloseTo(1, 9)
        const [sound, developing] = [new Float64Array(1), new Float64Array(1)]
        for (let c = 0; c < N; c++) {
          joint.marginal(c, sound, developing)
          expect(sum(sound) + sum(developing)).toBeCloseTo(1, 9)
        }
      }),
      { numRuns: runs(200), seed: 11 },
    )
  })
})

describe('hypotheses', () => {
  const cause = (of: number, detect: number): Cause => ({ component: of, detect })

  it('that are equal become one', () => {
    const joint = new JointBelief([componentAt(0.3)])
    joint.seen([cause(0, 0.5)], 0.01)
    expect(joint.size).toBe(2)
    joint.found(0, 'developing', FAIL_RATE)
    expect(joint.size).toBe(1)
  })

  it('merged by their moments leave the marginals that they had', () => {
    const at = [0.3, 0.2, 0.1, 0.15]
    const everything = at.map((_, c) => cause(c, 0.2 + 0.15 * c))
    const [exact, merged] = [1_000, 2].map((limit) => {
      const joint = new JointBelief(at.map(componentAt), limit)
      joint.seen(everything, 0.01)
      return joint
    })
    expect(exact!.size).toBe(5)
    expect(merged!.size).toBe(2)
    at.forEach((_, c) => {
      expect(merged!.developing(c)).toBeCloseTo(exact!.developing(c), 12)
    })
  })
})

describe('a finding to which no hypothesis gives mass', () => {
  it('is believed all the same, and said to be impossible', () => {
    const joint = new JointBelief([componentAt(0), componentAt(0.4)])
    expect(joint.found(0, 'developing', FAIL_RATE)).toBe(false)
    expect(joint.developing(0)).toBe(1)
    expect(joint.developing(1)).toBeCloseTo(0.4, 12)
  })
})
