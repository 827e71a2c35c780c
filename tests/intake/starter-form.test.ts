import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { draftErrors, type FamilyDraft, withSign, withWeakPoint } from '@/lib/intake/family-draft'
import { onsetCurve, onsetTyped, tellingAges } from '@/lib/intake/onset-typed'
import {
  isWarningTaken,
  ownGrounds,
  starterWeakPoint,
  WARNING_TAKEN,
  warningTaken,
} from '@/lib/intake/starter-form'
import { signOf } from '@/lib/intake/starter-sign'
import { kmFromThousands, kmRangeFrom, saidKm, typedThousands } from '@/lib/intake/thousands'
import { fromStatement } from '@/lib/model/elicitation'
import { parseDay } from '@/lib/units/dates'
import { runs } from '../runs'

const EMPTY: FamilyDraft = { key: 'twite-22', name: 'Twite 2.2', cylinders: 4, weakPoints: [] }
const say = (km: number) => `${km} km`
const TERMS = {
  distance: 'km' as const,
  say,
  stated: { by: 'Wren Ashdown', on: parseDay('2026-05-31') ?? 0 },
}
const PUMP = { component: 'Water pump', range: '80 to 120', confidence: 'experience' }

const stated = (typed: Record<string, string>, family = EMPTY, key: string | null = null) =>
  starterWeakPoint(family, key, typed, TERMS)

function kept(typed: Record<string, string>, family = EMPTY, key: string | null = null): FamilyDraft {
  const made = stated(typed, family, key)
  if (!made.ok) throw new Error(made.errors[0]?.message)
  expect(draftErrors(made.value.family)).toEqual([])
  return made.value.family
}

describe('a distance where thousands are asked for', () => {
  test.each([
    ['80', 80_000],
    ['80k', 80_000],
    ['80 thousand', 80_000],
    ['80,000', 80_000],
    ['80.000', 80_000],
    ['80 000', 80_000],
    ['80000 km', 80_000],
    ['80 km', 80_000],
    ['80.5', 80_500],
    ['80,5', 80_500],
    ['0.5', 500],
    ['120', 120_000],
    ['999', 999_000],
    ['1000', 1000],
    ['80k miles', 128_747.52],
  ])('%s is %d km', (text, km) => expect(kmFromThousands(text, 'km')).toBeCloseTo(km, 6))

  test('in an organisation that counts miles a bare number is thousands of them', () => {
    expect(kmFromThousands('50', 'mi')).toBeCloseTo(80_467.2, 6)
    expect(kmFromThousands('50,000 km', 'mi')).toBe(50_000)
  })

  test.each(['', 'soon', '0', '-80', '8 0', '80-120', '100,000,000'])('%s is none', (text) =>
    expect(kmFromThousands(text, 'km')).toBeNull(),
  )

  test('what is shown to be mended reads back as the same whole km', () => {
    const units = fc.constantFrom('km' as const, 'mi' as const)
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2_000_000 }), units, (km, unit) => {
        expect(Math.round(kmFromThousands(typedThousands(km, unit), unit) ?? 0)).toBe(km)
      }),
      { numRuns: runs(1000), seed: 5 },
    )
  })

  test('three figures are said, in the unit that it is said in', () => {
    expect(saidKm(98_234, 'km')).toBe(98_200)
    expect(saidKm(80_467, 'mi')).toBeCloseTo(80_467.2, 6)
  })
})

describe('a range', () => {
  test.each([
    ['80 to 120', 80_000, 120_000],
    ['80-120', 80_000, 120_000],
    ['80–120k', 80_000, 120_000],
    ['between 80 and 120 thousand', 80_000, 120_000],
    ['from 80,000 to 120.000 km', 80_000, 120_000],
    ['50 to 75 miles', 80_467.2, 120_700.8],
    ['120 to 80', 120_000, 80_000],
  ])('%s', (text, from, to) => {
    const range = kmRangeFrom(text, 'km')
    expect(range?.from).toBeCloseTo(from, 6)
    expect(range?.to).toBeCloseTo(to, 6)
  })

  test.each(['80', 'to 120', '80 to 100 to 120', 'early'])('%s is none', (text) =>
    expect(kmRangeFrom(text, 'km')).toBeNull(),
  )
})

describe('when it begins to go', () => {
  /** Of 100, by the life that the model makes of it. */
  const begun = (onset: { p10: number; p50: number }, age: number) => {
    const { shape, scale } = fromStatement({ ...onset, warning: 0 })
    return 100 * (1 - Math.exp(-((age / scale) ** shape)))
  }

  test('between 80 and 120 thousand: one in ten by the one, nine in ten by the other', () => {
    const read = onsetTyped({ range: '80 to 120' }, 'km', say)
    if (!read.ok) throw new Error(read.errors[0]?.message)
    expect(read.value.onset.p10).toBe(80_000)
    expect(begun(read.value.onset, 120_000)).toBeCloseTo(90, 2)
    expect(tellingAges(read.value.onset).map(({ age }) => Math.round(age / 100) * 100)).toEqual([
      80_000, 102_500, 120_000,
    ])
  })

  test('two counts, in thousands or written out, with what stands behind them', () => {
    const read = onsetTyped({ by1: '60', of1: '5 of 100', by2: '140,000', of2: '40 %' }, 'km', say)
    if (!read.ok) throw new Error(read.errors[0]?.message)
    expect(begun(read.value.onset, 60_000)).toBeCloseTo(5, 2)
    expect(begun(read.value.onset, 140_000)).toBeCloseTo(40, 2)
    expect(read.value.missesBy).toBeLessThan(1e-6)
  })

  test('the curve rises from nought through what was said', () => {
    const onset = { p10: 80_000, p50: 102_000 }
    const curve = onsetCurve(onset)
    expect(curve[0]).toEqual({ age: 0, ofHundred: 0 })
    for (const { age, ofHundred } of curve) expect(ofHundred).toBeCloseTo(begun(onset, age), 6)
    expect(curve.at(-1)?.ofHundred).toBeGreaterThan(99)
  })

  test.each<[string, Record<string, string>, string, RegExp]>([
    ['nothing', {}, 'range', /like 80 to 120; or fill in the counts/],
    ['both ways', { range: '80 to 120', by1: '80' }, 'range', /said twice/],
    ['no range', { range: 'late' }, 'range', /Type two distances/],
    ['a range the wrong way round', { range: '120 to 80' }, 'range', /read as 120000 km to 80000 km/],
    ['a range that is too narrow', { range: '80 to 90' }, 'range', /ends at 108000 km or later/],
    ['one count', { by1: '80', of1: '10' }, 'of1', /second distance/],
    ['a distance without a count', { by1: '80', by2: '120', of2: '50' }, 'of1', /how many in answer 1/],
    ['a count without a distance', { of1: '10', by2: '120', of2: '50' }, 'by1', /distance of answer 1/],
    ['more than all', { by1: '80', of1: '10', by2: '120', of2: '150' }, 'of2', /from 0 to 100/],
    [
      'counts that fall',
      { by1: '80', of1: '30', by2: '120', of2: '10' },
      'of2',
      /By 120000 km fewer have begun \(10 of 100\) than by 80000 km already \(30 of 100\)/,
    ],
    ['the same at both', { by1: '80', of1: '30', by2: '120', of2: '30' }, 'of2', /As many have begun/],
    ['two answers for one', { by1: '80', of1: '30', by2: '80', of2: '40' }, 'of2', /two answers, 30 and 40/],
    ['nearly at once', { by1: '80', of1: '10', by2: '85', of2: '50' }, 'of2', /less than 1.2 times/],
    ['hardly ever', { by1: '10', of1: '10', by2: '100', of2: '15' }, 'of2', /more than 43 times/],
  ])('%s is refused with what to do', (_, typed, field, message) => {
    const read = onsetTyped(typed, 'km', say)
    if (read.ok) throw new Error('It was taken')
    expect(read.errors[0]?.field).toBe(field)
    expect(read.errors[0]?.message).toMatch(message)
  })

  test('the end that a range is refused with is taken', () => {
    const units = fc.constantFrom('km' as const, 'mi' as const)
    fc.assert(
      fc.property(fc.integer({ min: 5, max: 400 }), units, (from, unit) => {
        const read = onsetTyped({ range: `${from} to ${from * 1.1}` }, unit, String)
        if (read.ok) throw new Error('It was taken')
        const [, end] = /ends at ([\d.]+) or later/.exec(read.errors[0]?.message ?? '') ?? []
        const range = `${from}k to ${typedThousands(Math.round(Number(end)), unit)}`
        expect(onsetTyped({ range }, unit, String)).toMatchObject({ ok: true })
      }),
      { numRuns: runs(100), seed: 5 },
    )
  })

  test('any onset within the limits comes back from counts that are typed', () => {
    const spread = fc.double({ min: 1.25, max: 40, noNaN: true })
    fc.assert(
      fc.property(fc.integer({ min: 5000, max: 200_000 }), spread, (p10, times) => {
        const p50 = Math.round(p10 * times)
        const typed = { by1: typedThousands(p10, 'km'), of1: '10', by2: typedThousands(p50, 'km'), of2: '50' }
        expect(onsetTyped(typed, 'km', say)).toMatchObject({ ok: true, value: { onset: { p10, p50 } } })
      }),
      { numRuns: runs(300), seed: 5 },
    )
  })
})

describe('a weak point on the short form', () => {
  test('says who states it and since when; what was left out is left out, or said to be taken', () => {
    const [point] = kept(PUMP).weakPoints
    expect(point).toMatchObject({
      ...{ key: 'water-pump', clock: 'distance', positions: 1, severity: 'plan', harm: false },
      ...{ statedBy: 'Wren Ashdown', statedOn: '2026-05-31', cautions: [], grounds: WARNING_TAKEN },
      cost: { parts: 0, hours: 0, failureExtra: 0, daysOff: 0 },
    })
    expect(point?.warning).toBe(warningTaken(point?.onset.p50 ?? 0))
    expect(point && isWarningTaken(point)).toBe(true)
    expect(kept(PUMP).signs ?? []).toEqual([])
  })

  test('what somebody says of the grounds and the warning stands as it is', () => {
    const own = { ...PUMP, grounds: 'Own workshop since 2019', warning: '3k' }
    const [point] = kept(own).weakPoints
    expect(point).toMatchObject({ grounds: 'Own workshop since 2019', warning: 3000 })
    const [taken] = kept({ ...own, warning: '' }).weakPoints
    expect(taken && ownGrounds(taken)).toBe('Own workshop since 2019')
    expect(taken && isWarningTaken(taken)).toBe(true)
    expect(kept({ ...own, warning: '0' }).weakPoints[0]?.warning).toBe(0)
  })

  test('all that is wrong is said at once, in the order of the form', () => {
    const made = stated({ range: 'late', warning: '3', sign: 'Rattle', signKind: 'code' })
    if (made.ok) throw new Error('It was taken')
    expect(made.errors.map(({ field }) => field)).toEqual([
      'component',
      'range',
      'confidence',
      'warning',
      'sign',
    ])
    expect(made.errors[3]?.message).toBe(
      'That is 3 km. Type 3k for three thousand, or 0 if it breaks down without warning.',
    )
  })

  test('a trouble code in the text of a sign makes it one that is read out', () => {
    const family = kept({ ...PUMP, sign: 'Misfire, P030#', signKind: 'visual', detect: '0.9', leak: '0.03' })
    expect(family.signs).toEqual([
      {
        ...{ key: 'misfire-p030', label: 'Misfire, P030#', kind: 'code', codes: ['P030#'], leak: 0.03 },
        causes: [{ weakPoint: 'water-pump', detect: 0.9 }],
      },
    ])
  })

  test('two weak points that show the same sign share it, and give it up again apart', () => {
    const first = kept({ ...PUMP, sign: 'Misfire P0300', detect: '0.3' })
    const both = kept({ ...PUMP, component: 'Injector', sign: 'Rough, P0300', detect: '0.6' }, first)
    expect(both.signs).toHaveLength(1)
    expect(both.signs?.[0]).toMatchObject({
      label: 'Misfire P0300',
      causes: [
        { weakPoint: 'water-pump', detect: 0.3 },
        { weakPoint: 'injector', detect: 0.6 },
      ],
    })
    const apart = kept(
      { ...PUMP, component: 'Injector', sign: 'Ticking', signKind: 'road' },
      both,
      'injector',
    )
    expect(
      apart.signs?.map(({ label, causes }) => [label, causes?.map(({ weakPoint }) => weakPoint)]),
    ).toEqual([
      ['Misfire P0300', ['water-pump']],
      ['Ticking', ['injector']],
    ])
    const without = kept({ ...PUMP, component: 'Injector' }, apart, 'injector')
    expect(without.signs).toHaveLength(1)
  })

  test('stated anew it keeps what only the long form asks', () => {
    const first = kept({ ...PUMP, sign: 'Drip', signKind: 'visual' })
    const long = withSign(
      withWeakPoint(first, 'water-pump', {
        ...first.weakPoints[0]!,
        ...{ zone: 'front', part: 'WP-1', renewEvery: 150_000, duty: { short: 1.5, long: 0.9 } },
        revisions: [{ key: 'b', lifeFactor: 1.5 }],
      }),
      'drip',
      { ...first.signs![0]!, how: 'With a lamp.', zone: 'front' },
    )
    const again = kept(
      { ...PUMP, component: 'Coolant pump', range: '90 to 150', sign: 'Drips', signKind: 'visual' },
      long,
      'water-pump',
    )
    expect(again.weakPoints[0]).toMatchObject({
      ...{ key: 'water-pump', component: 'Coolant pump', zone: 'front', part: 'WP-1', renewEvery: 150_000 },
      duty: { short: 1.5, long: 0.9 },
      revisions: [{ key: 'b', lifeFactor: 1.5 }],
    })
    expect(again.signs).toHaveLength(1)
    expect(signOf(again, 'water-pump')).toMatchObject({
      key: 'drip',
      label: 'Drips',
      how: 'With a lamp.',
      zone: 'front',
    })
  })
})
