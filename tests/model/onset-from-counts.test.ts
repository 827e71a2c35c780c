import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { fromStatement } from '@/lib/model/elicitation'
import {
  begunBy,
  type CountByAge,
  endsOfRange,
  ninetiethOf,
  onsetFromCounts,
  SPREAD,
} from '@/lib/model/onset-from-counts'
import { parseLibrary } from '@/lib/records/library'
import { runs } from '../runs'

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const logUniform = (min: number, max: number) => number(Math.log(min), Math.log(max)).map(Math.exp)

/** Any onset that a library may state. */
const onsets = fc
  .tuple(logUniform(100, 1e6), logUniform(SPREAD.least, SPREAD.largest))
  .map(([p10, spread]) => ({ p10, p50: p10 * spread }))

/** The count by the life that the model makes of the statement, which knows nothing of this file. */
const countOf = (onset: { p10: number; p50: number }, age: number) => {
  const { shape, scale } = fromStatement({ ...onset, warning: 0 })
  return 100 * (1 - Math.exp(-((age / scale) ** shape)))
}

/** The age at which so many of a hundred have begun, by the same. */
const ageOf = (onset: { p10: number; p50: number }, ofHundred: number) => {
  const { shape, scale } = fromStatement({ ...onset, warning: 0 })
  return scale * (-Math.log(1 - ofHundred / 100)) ** (1 / shape)
}

/** Counts that are apart enough for the digits of a double. */
const counts = (least: number) =>
  fc
    .uniqueArray(fc.integer({ min: 1, max: 99 }), { minLength: least, maxLength: 6 })
    .map((list) => list.sort((a, b) => a - b))

describe('an onset told in counts', () => {
  it('comes back, whichever counts and however many tell it', () => {
    fc.assert(
      fc.property(onsets, counts(2), (onset, ofHundreds) => {
        const answers = ofHundreds.map((ofHundred) => ({ age: ageOf(onset, ofHundred), ofHundred }))
        const found = onsetFromCounts(answers)
        if (!found.ok) throw new Error(found.reason)
        expect(found.p10 / onset.p10).toBeCloseTo(1, 9)
        expect(found.p50 / onset.p50).toBeCloseTo(1, 9)
        expect(found.p90 / ageOf(onset, 90)).toBeCloseTo(1, 9)
        expect(found.missesBy).toBeLessThan(1e-6)
      }),
      { numRuns: runs(500), seed: 11 },
    )
  })

  it('has the shares that the model lives by', () => {
    fc.assert(
      fc.property(onsets, number(0.01, 3), (onset, times) => {
        expect(100 * begunBy(onset, times * onset.p50)).toBeCloseTo(countOf(onset, times * onset.p50), 8)
        expect(ninetiethOf(onset) / ageOf(onset, 90)).toBeCloseTo(1, 9)
      }),
      { numRuns: runs(300), seed: 11 },
    )
  })

  it('is the closest line to answers that lie on none: no other is nearer by the squares', () => {
    const answers = fc
      .tuple(counts(3), logUniform(1e3, 1e6), fc.array(number(1.2, 3), { minLength: 6, maxLength: 6 }))
      .map(([ofHundreds, first, steps]) =>
        ofHundreds.map(
          (ofHundred, i): CountByAge => ({
            ofHundred,
            age: steps.slice(0, i).reduce((age, step) => age * step, first),
          }),
        ),
      )
    fc.assert(
      fc.property(answers, number(-0.05, 0.05), number(-0.05, 0.05), (told, turn, shift) => {
        const found = onsetFromCounts(told)
        fc.pre(found.ok)
        if (!found.ok) return
        const { shape, scale } = fromStatement({ ...found, warning: 0 })
        const squares = (beta: number, eta: number) =>
          told.reduce((sum, { age, ofHundred }) => {
            const wanted = Math.log(-Math.log(1 - ofHundred / 100))
            return sum + (beta * Math.log(age / eta) - wanted) ** 2
          }, 0)
        const best = squares(shape, scale)
        expect(squares(shape * (1 + turn), scale * (1 + shift))).toBeGreaterThanOrEqual(best - 1e-9)
      }),
      { numRuns: runs(500), seed: 11 },
    )
  })
})

describe('what is said', () => {
  test('none and all have a place: half of one of a hundred', () => {
    const found = onsetFromCounts([
      { age: 50_000, ofHundred: 0 },
      { age: 80_000, ofHundred: 0 },
      { age: 200_000, ofHundred: 100 },
      { age: 250_000, ofHundred: 100 },
    ])
    const same = onsetFromCounts([
      { age: 80_000, ofHundred: 0.5 },
      { age: 200_000, ofHundred: 99.5 },
    ])
    expect(found).toEqual(same)
    expect(found.ok && found.p10 > 80_000 && found.p90 < 200_000).toBe(true)
  })

  test.each<[string, CountByAge[], string]>([
    ['nothing', [], 'too-few'],
    ['one age', [{ age: 80_000, ofHundred: 10 }], 'too-few'],
    [
      'one age twice',
      [
        { age: 80_000, ofHundred: 10 },
        { age: 80_000, ofHundred: 20 },
      ],
      'contradiction',
    ],
    [
      'fewer later, in any order',
      [
        { age: 120_000, ofHundred: 10 },
        { age: 80_000, ofHundred: 20 },
      ],
      'contradiction',
    ],
    [
      'as many at both',
      [
        { age: 80_000, ofHundred: 20 },
        { age: 120_000, ofHundred: 20 },
      ],
      'flat',
    ],
    [
      'none at both',
      [
        { age: 80_000, ofHundred: 0 },
        { age: 120_000, ofHundred: 0 },
      ],
      'flat',
    ],
    [
      'nearly all at once',
      [
        { age: 80_000, ofHundred: 10 },
        { age: 90_000, ofHundred: 50 },
      ],
      'too-narrow',
    ],
    [
      'hardly ever faster',
      [
        { age: 10_000, ofHundred: 10 },
        { age: 100_000, ofHundred: 20 },
      ],
      'too-wide',
    ],
  ])('%s is refused with its reason', (_, answers, reason) => {
    expect(onsetFromCounts(answers)).toMatchObject({ ok: false, reason })
  })

  test('what contradicts is named', () => {
    expect(
      onsetFromCounts([
        { age: 60_000, ofHundred: 5 },
        { age: 120_000, ofHundred: 10 },
        { age: 80_000, ofHundred: 20 },
      ]),
    ).toEqual({
      ok: false,
      reason: 'contradiction',
      earlier: { age: 80_000, ofHundred: 20 },
      later: { age: 120_000, ofHundred: 10 },
    })
  })

  test('of three that lie on no line, it says by how much it misses the worst', () => {
    const answers = [
      { age: 60_000, ofHundred: 30 },
      { age: 100_000, ofHundred: 32 },
      { age: 140_000, ofHundred: 80 },
    ]
    const found = onsetFromCounts(answers)
    if (!found.ok) throw new Error(found.reason)
    const misses = answers.map(({ age, ofHundred }) => Math.abs(countOf(found, age) - ofHundred))
    expect(found.missesBy).toBeCloseTo(Math.max(...misses), 8)
    expect(found.missesBy).toBeGreaterThan(10)
  })
})

describe('the limits', () => {
  test('are those of the library: what is within is valid there, what is beyond is not', () => {
    const valid = (spread: number) =>
      parseLibrary(
        JSON.stringify({
          format: 'gudgeon-library/1',
          name: 'x',
          families: [
            {
              key: 'x',
              cylinders: 4,
              weakPoints: [
                {
                  key: 'w',
                  component: 'W',
                  onset: { p10: 1000, p50: 1000 * spread },
                  warning: 0,
                  confidence: 'hunch',
                },
              ],
            },
          ],
        }),
      ).ok
    for (const limit of [SPREAD.least, SPREAD.largest]) expect(valid(limit)).toBe(true)
    expect(valid(SPREAD.least - 0.001)).toBe(false)
    expect(valid(SPREAD.largest + 0.001)).toBe(false)
  })

  test('of a range are just where it begins to be refused', () => {
    const between = (from: number, to: number) =>
      onsetFromCounts([
        { age: from, ofHundred: 10 },
        { age: to, ofHundred: 90 },
      ])
    const { least, largest } = endsOfRange(80_000)
    expect(between(80_000, least)).toMatchObject({ ok: true })
    expect(between(80_000, largest)).toMatchObject({ ok: true })
    expect(between(80_000, least * 0.999)).toMatchObject({ ok: false, reason: 'too-narrow' })
    expect(between(80_000, largest * 1.001)).toMatchObject({ ok: false, reason: 'too-wide' })
  })
})
