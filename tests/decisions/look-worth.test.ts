/** The worth of a look against brute force: every joint state, every set of signs, act or leave for each. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Stake, worthOfLooking } from '@/lib/decisions/look-worth'
import type { JointBelief } from '@/lib/model/joint-belief'
import { at, engine, followOne, type History, looked, point, sign } from '../scoring/one-vehicle'

/** A share that an author could state of a sign. */
const DETECT = { min: 0.05, max: 0.9, noNaN: true }

const library = engine(
  [
    point('turbo', 120_000, 200_000, 9_000),
    point('diverter', 90_000, 150_000, 6_000),
    point('hose', 100_000, 160_000, 12_000),
  ],
  [
    sign('boost-low', 'code', { turbo: 0.6, diverter: 0.3, hose: 0.4 }, { codes: ['P0299'], leak: 0.01 }),
    sign('over-boost', 'code', { diverter: 0.5 }, { codes: ['P0234'], leak: 0.02 }),
    sign('stuck', 'code', { turbo: 0.3, hose: 0.1 }, { codes: ['P0045'], leak: 0.03 }),
    sign('whistle', 'road', { turbo: 0.4, hose: 0.5 }, { leak: 0.02 }),
  ],
)
const AT = 140_000
const HISTORIES: [string, History][] = [
  ['never looked at', []],
  ['with a whistle', [[AT - 6_000, looked('road', at('whistle'))]]],
  [
    'with low boost and then none',
    [
      [AT - 9_000, looked('scan', at('boost-low'))],
      [AT - 3_000, looked('scan')],
    ],
  ],
]

/** What leaving a part costs at each chance that it is going: as long as it pays to act from `turn` on. */
const lossAt = (p: number, turn: number, size: number) => size * Math.min(p - turn, 0.6 - 0.2 * turn)
const TURNS = [0.3, 0.5, 0.15]
const SIZES = [400, 150, 90]

function stakesOf(chances: number[]): Stake[] {
  return chances.map((p, component) => ({
    component,
    loss: (lambda: number) => {
      const odds = (lambda * p) / (1 - p)
      return lossAt(
        odds === Number.POSITIVE_INFINITY ? 1 : odds / (1 + odds),
        TURNS[component]!,
        SIZES[component]!,
      )
    },
  }))
}

/** EV of looking for some signs, by enumeration of the 2ⁿ states under every hypothesis. */
function bruteForce(
  joint: JointBelief,
  signs: { leak: number; causes: { component: number; detect: number }[] }[],
) {
  const states = Array.from({ length: 8 }, (_, bits) => [0, 1, 2].map((c) => (bits >> c) & 1))
  const prior = states.map((going) =>
    joint.table().reduce((total, h) => {
      return total + going.reduce((p, g, c) => p * (g ? h.developing[c]! : 1 - h.developing[c]!), h.weight)
    }, 0),
  )
  const value = (weights: number[]) => {
    const total = weights.reduce((a, b) => a + b, 0)
    return [0, 1, 2].reduce((sum, c) => {
      const p = states.reduce((a, going, s) => a + (going[c] ? weights[s]! : 0), 0) / total
      return sum + Math.min(0, lossAt(p, TURNS[c]!, SIZES[c]!))
    }, 0)
  }
  let after = 0
  for (let seen = 0; seen < 1 << signs.length; seen++) {
    const weights = states.map((going, s) =>
      signs.reduce((p, { leak, causes }, i) => {
        const silent = causes.reduce((q, c) => q * (going[c.component] ? 1 - c.detect : 1), 1 - leak)
        return p * (seen & (1 << i) ? 1 - silent : silent)
      }, prior[s]!),
    )
    after += weights.reduce((a, b) => a + b, 0) * value(weights)
  }
  return value(prior) - after
}

describe.each(HISTORIES)('a vehicle %s', (_, history) => {
  const one = followOne(library, AT, history, { central: true })
  const { plan } = one.belief
  const chances = plan.components.map((__, c) => one.belief.developing(c))
  const key = (name: string) => plan.sighting(name, null)!

  it.each([
    [['boost-low']],
    [['boost-low', 'over-boost']],
    [['boost-low', 'over-boost', 'stuck']],
    [['whistle']],
  ])('gains by looking for %j what brute force gains', (names) => {
    const signs = names.map(key)
    const { worth } = worthOfLooking(one.followed, signs, stakesOf(chances))
    const expected = bruteForce(
      one.belief.jointOf(0).joint,
      signs.map((s) => plan.signs[s]!),
    )
    expect(expected).toBeGreaterThan(-1e-9)
    expect(worth).toBeCloseTo(expected, 8)
  })

  it('gains no less by looking for more', () => {
    const worth = (names: string[]) => worthOfLooking(one.followed, names.map(key), stakesOf(chances)).worth
    expect(worth(['boost-low', 'stuck'])).toBeGreaterThanOrEqual(worth(['boost-low']) - 1e-9)
    expect(worth(['boost-low', 'stuck', 'over-boost'])).toBeGreaterThanOrEqual(
      worth(['boost-low', 'stuck']) - 1e-9,
    )
  })
})

describe('a look', () => {
  const one = followOne(library, AT, [], { central: true })
  const signs = [one.belief.plan.sighting('boost-low', null)!]
  const fixed = (loss: number): Stake[] => [{ component: 0, loss: () => loss }]

  it('is worth nothing where no outcome could change what is done', () => {
    for (const loss of [-50, 50]) {
      const { worth, moved } = worthOfLooking(one.followed, signs, fixed(loss))
      expect(worth).toBeCloseTo(0, 12)
      expect(moved.size).toBe(0)
    }
  })

  it('names the parts that an outcome would move across acting and leaving', () => {
    const chances = one.belief.plan.components.map((_, c) => one.belief.developing(c))
    const stakes = stakesOf(chances)
    const { moved } = worthOfLooking(one.followed, signs, stakes)
    expect(moved.size).toBeGreaterThan(0)
    for (const component of moved) expect(stakes[component]!.loss(1)).toBeLessThan(0)
  })

  it('is worth nothing without anything at stake or any sign', () => {
    expect(worthOfLooking(one.followed, signs, [])).toMatchObject({ worth: 0 })
    expect(worthOfLooking(one.followed, [], fixed(1))).toMatchObject({ worth: 0 })
  })
})

describe('a look for more signs than are told apart one by one', () => {
  const CODES = ['P0101', 'P0102', 'P0103', 'P0104', 'P0105', 'P0106', 'P0107', 'P0108', 'P0109', 'P0110']
  const many = engine(
    [
      point('turbo', 120_000, 200_000, 9_000),
      point('diverter', 90_000, 150_000, 6_000),
      point('hose', 100_000, 160_000, 12_000),
    ],
    CODES.map((code, i) =>
      sign(
        `sign-${i}`,
        'code',
        { turbo: 0.2 + 0.05 * i, diverter: 0.5 - 0.03 * i, hose: 0.3 },
        { codes: [code], leak: 0.02 },
      ),
    ),
  )
  const one = followOne(many, AT, [], { central: true })
  const { plan } = one.belief
  const chances = plan.components.map((_, c) => one.belief.developing(c))
  const places = (count: number) => Array.from({ length: count }, (_, i) => plan.sighting(`sign-${i}`, null)!)
  const exactly = (signs: number[]) =>
    bruteForce(
      one.belief.jointOf(0).joint,
      signs.map((s) => plan.signs[s]!),
    )
  const worth = (signs: number[], stakes = stakesOf(chances)) =>
    worthOfLooking(one.followed, signs, stakes).worth

  it.each([8, 9, 10])(
    'is worth at most what full enumeration of %i signs gives, and most of that',
    (count) => {
      const [said, expected] = [worth(places(count)), exactly(places(count))]
      expect(said).toBeLessThanOrEqual(expected + 1e-9)
      expect(said).toBeGreaterThan(0.85 * expected)
    },
  )

  it('is worth nothing where no outcome could change what is done', () => {
    // Leaving is right at every chance: its loss falls with the chance being lower, and is never above nought.
    const always = chances.map((p, component) => ({
      component,
      loss: (lambda: number) => {
        const odds = (lambda * p) / (1 - p)
        return 100 * ((odds === Number.POSITIVE_INFINITY ? 1 : odds / (1 + odds)) - 1)
      },
    }))
    expect(worth(places(8), always)).toBeCloseTo(0, 6)
  })
})

it('is never worth less than nothing before its cost, whatever the parts and signs are', () => {
  fc.assert(
    fc.property(
      fc.array(
        fc.record({
          detects: fc.tuple(fc.double(DETECT), fc.double(DETECT), fc.double(DETECT)),
          leak: fc.double({ min: 0.001, max: 0.2, noNaN: true }),
        }),
        { minLength: 1, maxLength: 8 },
      ),
      fc.integer({ min: 40_000, max: 260_000 }),
      (drawn, km) => {
        const signs = drawn.map(({ detects: [turbo, diverter, hose], leak }, i) =>
          sign(`s${i}`, 'visual', { turbo, diverter, hose }, { leak }),
        )
        const points = ['turbo', 'diverter', 'hose'].map((name, i) =>
          point(name, 90_000 + 10_000 * i, 150_000 + 20_000 * i, 9_000),
        )
        const one = followOne(engine(points, signs), km, [], { central: true })
        const { plan } = one.belief
        const stakes = stakesOf(plan.components.map((_, c) => one.belief.developing(c)))
        const placed = drawn.map((_, i) => plan.sighting(`s${i}`, null)!)
        const { worth } = worthOfLooking(one.followed, placed, stakes)
        const expected = bruteForce(
          one.belief.jointOf(0).joint,
          placed.map((s) => plan.signs[s]!),
        )
        expect(worth).toBeGreaterThanOrEqual(0)
        expect(worth).toBeLessThanOrEqual(expected + 1e-6)
        if (placed.length <= 7) expect(worth).toBeCloseTo(expected, 6)
      },
    ),
    { numRuns: 60 },
  )
})
