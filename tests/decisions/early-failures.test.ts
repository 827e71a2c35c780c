import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  type CarriedPart,
  chanceOfAtLeast,
  earlyFailures,
  FALSE_ALARMS,
  whoCarried,
} from '@/lib/decisions/early-failures'
import { makeRandom } from '@/seed/random'

/** By every outcome of every part: 2ⁿ of them. */
function byEnumeration(chances: readonly number[], least: number): number {
  let total = 0
  for (let outcome = 0; outcome < 2 ** chances.length; outcome++) {
    const gone = chances.map((_, i) => (outcome >> i) & 1)
    if (gone.reduce((a, b) => a + b, 0) < least) continue
    total += chances.reduce((product, p, i) => product * (gone[i] ? p : 1 - p), 1)
  }
  return total
}

test('the chance of a count is that of all outcomes, one by one', () => {
  const chance = fc.double({ min: 0, max: 1, noNaN: true })
  const parts = fc.array(fc.tuple(chance, chance), { minLength: 1, maxLength: 9 })
  fc.assert(
    fc.property(parts, fc.nat(10), (goneBy, least) => {
      const expected = [0, 1].map((share) =>
        byEnumeration(
          goneBy.map((one) => one[share]!),
          least,
        ),
      )
      expect(chanceOfAtLeast(goneBy, least)).toBeCloseTo((expected[0]! + expected[1]!) / 2, 10)
    }),
    { numRuns: 60 },
  )
})

const SHARES = 10
const SHAPE = 2.5
/** The scales of the lives that are thought possible: the longest first. */
const SCALES = Array.from(
  { length: SHARES },
  (_, i) => 100_000 * Math.exp((0.3 * ((SHARES - 1) / 2 - i)) / 3),
)
const BATCHES = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H']

/**
 * A fleet whose parts begin to go by a Weibull life that is one of those thought possible; a workshop finds one going
 * some time after, or it breaks; some are renewed good before. The bad batch lasts a fraction as long.
 */
function aFleet(seed: string, bad: { batch: string; factor: number } | null): CarriedPart[] {
  const random = makeRandom(seed)
  const scale = SCALES[Math.floor(random.next() * SHARES)]!
  return Array.from({ length: 240 }, (_, i) => {
    const batch = BATCHES[i % BATCHES.length]!
    const factor = bad?.batch === batch ? bad.factor : 1
    const onset = scale * factor * (-Math.log(1 - random.next())) ** (1 / SHAPE)
    const found = onset - 6000 * Math.log(1 - random.next())
    const seenTo = 70_000 * random.next()
    const renewed = random.next() < 0.15 ? seenTo * random.next() : seenTo
    const isGone = found <= renewed
    const until = isGone ? seenTo : renewed
    const goneBy = SCALES.map((one) => 1 - Math.exp(-((until / one) ** SHAPE)))
    return {
      ...{ unit: `V${i % 60}`, part: 'P', supplier: i % 3 ? 'Reed' : 'Sedge', batch, goneBy },
      end: isGone ? 'gone' : renewed < seenTo ? 'other' : 'running',
    }
  })
}

describe('over simulated fleets', () => {
  test('without a bad batch there is a false alarm no oftener than is said', () => {
    const fleets = 250
    const alarmed = Array.from({ length: fleets }, (_, i) => earlyFailures(aFleet(`null ${i}`, null)))
    const found = alarmed.filter(({ alarms }) => alarms.length > 0).length
    expect(alarmed[0]!.groups).toBe(2 + 2 * BATCHES.length)
    // Two standard errors beyond the share that is promised.
    expect(found).toBeLessThanOrEqual(fleets * FALSE_ALARMS + 2 * Math.sqrt(fleets * FALSE_ALARMS))
  })

  test('a count as bad as happens to one batch in ten comes up about so often, and no oftener', () => {
    const chances = Array.from({ length: 100 }, (_, i) => aFleet(`counts ${i}`, null)).flatMap((fleet) =>
      BATCHES.map((batch) => {
        const parts = fleet.filter((one) => one.batch === batch)
        return chanceOfAtLeast(
          parts.map(({ goneBy }) => goneBy),
          parts.filter(({ end }) => end === 'gone').length,
        )
      }),
    )
    const share = chances.filter((chance) => chance <= 0.1).length / chances.length
    // What goes is found some time after it began to go, so that the count errs towards no alarm.
    expect(share).toBeLessThanOrEqual(0.1)
    expect(share).toBeGreaterThanOrEqual(0.02)
  })

  test('a batch that lasts a quarter as long is found, and no other', () => {
    const fleets = 40
    const alarms = Array.from({ length: fleets }, (_, i) =>
      earlyFailures(aFleet(`bad ${i}`, { batch: 'C', factor: 0.25 })).alarms.filter(
        ({ batch }) => batch !== null,
      ),
    )
    const found = alarms.filter((each) => each.some(({ batch }) => batch === 'C')).length
    const wrong = alarms.filter((each) => each.some(({ batch }) => batch !== 'C')).length
    // 34 of 40 where this was written: thirty parts a batch, and a life that is known within a third.
    expect(found).toBeGreaterThanOrEqual(0.75 * fleets)
    expect(wrong).toBeLessThanOrEqual(0.1 * fleets)
  })
})

const carried = (said: Partial<CarriedPart>): CarriedPart => ({
  ...{ unit: 'V1', part: 'P', supplier: 'Reed', batch: 'A', end: 'running', goneBy: [0.001] },
  ...said,
})

test('two that went on one vehicle are no alarm: it may be the vehicle', () => {
  const gone = { end: 'gone' as const }
  expect(earlyFailures([carried(gone), carried(gone)]).alarms).toEqual([])
  const { alarms } = earlyFailures([carried(gone), carried({ ...gone, unit: 'V2' })])
  expect(alarms.map(({ supplier, batch, gone }) => [supplier, batch, gone])).toEqual([
    ['Reed', null, 2],
    ['Reed', 'A', 2],
  ])
  expect(alarms[0]!.chanceAmongAll).toBeCloseTo(2e-6, 12)
  expect(alarms[0]!.expected).toBeCloseTo(0.002, 12)
})

test('parts of no known supplier or batch are in no group, and one of a batch alone is in one', () => {
  expect(earlyFailures([carried({ supplier: null, batch: null })])).toEqual({
    groups: 0,
    parts: 0,
    alarms: [],
  })
  expect(earlyFailures([carried({ supplier: null })])).toMatchObject({ groups: 1, parts: 1 })
})

test('who carried it: one job counts once, and what has no price on record is said', () => {
  const pair = { paidBy: 'own', partsCost: 100, labourHours: 2 }
  const works = [
    pair,
    pair,
    { paidBy: 'supplier', partsCost: 50, labourHours: null },
    { paidBy: null, partsCost: null, labourHours: null },
  ]
  expect(whoCarried(works, 80)).toEqual([
    { payer: 'own', parts: 1, money: 260, unpriced: 0 },
    { payer: 'supplier', parts: 1, money: 50, unpriced: 0 },
    { payer: null, parts: 1, money: 0, unpriced: 1 },
  ])
})
