import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { EXAMPLE_FAMILY } from '@/lib/intake/example-family'
import {
  draftErrors,
  type FamilyDraft,
  keyFor,
  libraryWith,
  withLink,
  withoutLink,
  withoutSign,
  withoutWeakPoint,
  withSign,
  withWeakPoint,
} from '@/lib/intake/family-draft'
import { amountFrom, lifeFrom, linkFrom, shownBy, signFrom, weakPointFrom } from '@/lib/intake/family-forms'
import { parseLibrary } from '@/lib/records/library'

const PUMP = { component: 'Water pump', p10: '90 000', p50: '180.000', warning: '8,000', confidence: 'hunch' }
const EMPTY: FamilyDraft = { key: 'x', name: 'X', cylinders: 4, weakPoints: [] }

describe('an amount as people type it', () => {
  test.each([
    ['90000', 'distance', 90_000],
    ['90 000 km', 'distance', 90_000],
    ['90.000', 'distance', 90_000],
    ['90k', 'distance', 90_000],
    ['90k km', 'distance', 90_000],
    ['60k miles', 'distance', 96_561],
    ['60,000 mi', 'distance', 96_561],
    ['2 500 h', 'hours', 2500],
    ['2.5k', 'hours', 2500],
    ['5', 'time', 1826],
    ['5 years', 'time', 1826],
    ['8 months', 'time', 244],
    ['90 days', 'time', 90],
    ['2 weeks', 'time', 14],
  ] as const)('%s of %s', (text, clock, expected) => {
    expect(amountFrom(text, clock, 'km')).toBe(expected)
  })

  test.each(['', 'soon', '-5', '1e5', '90 000 furlongs', 'k', '..'])('"%s" is none', (text) => {
    for (const clock of ['distance', 'hours', 'time'] as const)
      expect(amountFrom(text, clock, 'km')).toBeNull()
  })

  test('a bare distance is in the unit of the organisation', () => {
    expect(amountFrom('60,000', 'distance', 'mi')).toBe(96_561)
    expect(amountFrom('60,000 km', 'distance', 'mi')).toBe(60_000)
  })
})

describe('a weak point from its form', () => {
  test('is what a library file says of one, and what is left blank takes the defaults', () => {
    const read = weakPointFrom({ ...PUMP, parts: '180', hours: '1,5', harm: 'yes', severity: 'stop' }, 'km')
    expect(read).toMatchObject({
      ok: true,
      value: {
        component: 'Water pump',
        onset: { p10: 90_000, p50: 180_000 },
        warning: 8000,
        confidence: 'hunch',
        severity: 'stop',
        harm: true,
        positions: 1,
        cost: { parts: 180, hours: 1.5, failureExtra: 0, daysOff: 0 },
        cautions: [],
        grounds: null,
      },
    })
  })

  test('states its schedule and what short trips and long runs do to it, where that is known', () => {
    const read = weakPointFrom({ ...PUMP, renewEvery: '120k', 'duty:short': '1.5', 'duty:long': '0.9' }, 'km')
    expect(read).toMatchObject({
      value: { renewEvery: 120_000, duty: { short: 1.5, mixed: 1, long: 0.9 } },
    })
    expect(weakPointFrom(PUMP, 'km')).toMatchObject({
      value: { renewEvery: null, duty: { short: 1, mixed: 1, long: 1 } },
    })
  })

  test.each([
    [{ component: ' ' }, 'component'],
    [{ renewEvery: 'often' }, 'renewEvery'],
    [{ p10: 'soon' }, 'p10'],
    [{ p10: '0' }, 'p10'],
    [{ p50: '80 000' }, 'p50'],
    [{ warning: '' }, 'warning'],
    [{ confidence: 'sure' }, 'confidence'],
    [{ parts: 'cheap' }, 'parts'],
  ])('with %j is asked about at its field', (change, field) => {
    const read = weakPointFrom({ ...PUMP, ...change }, 'km')
    expect(read.ok ? [] : read.errors.map((error) => error.field)).toEqual([field])
  })

  test('whatever is typed, it is either valid in a library or says what to mend', () => {
    const cell = fc.oneof(
      fc.string(),
      fc.constantFrom('90 000', '180k', '0', '1', 'yes', 'hunch', 'hours', 'stop'),
    )
    const form = fc.record(
      Object.fromEntries(
        [...Object.keys(PUMP), 'clock', 'positions', 'parts', 'severity', 'renewEvery', 'duty:short'].map(
          (name) => [name, cell],
        ),
      ),
    )
    fc.assert(
      fc.property(form, (typed) => {
        const read = weakPointFrom(typed, 'km')
        const errors = read.ok ? draftErrors(withWeakPoint(EMPTY, null, read.value)) : read.errors
        for (const { message } of errors) expect(message.length).toBeGreaterThan(10)
        if (errors.length === 0) expect(lifeFrom(typed, 'km')).toMatchObject({ onset: expect.anything() })
      }),
    )
  })

  test('a spread that no life has is said at the field', () => {
    const read = weakPointFrom({ ...PUMP, p50: '95 000' }, 'km')
    const errors = read.ok ? draftErrors(withWeakPoint(EMPTY, null, read.value)) : []
    expect(errors).toEqual([{ field: 'p50', message: expect.stringContaining('1.2 and 43 times') }])
  })
})

describe('a sign from its form', () => {
  const typed = { label: 'Misfire', kind: 'code', codes: 'p030#, P1234 and 94:18', [shownBy('coil')]: '0.6' }

  test('finds codes in what was typed, one a cylinder among them', () => {
    expect(signFrom(typed, ['coil', 'pump'])).toMatchObject({
      ok: true,
      value: {
        codes: ['P030#', 'P1234', '94:18'],
        causes: [{ weakPoint: 'coil', detect: 0.6 }],
        leak: 0.005,
      },
    })
  })

  test('says what is missing', () => {
    const errors = (change: object) => {
      const read = signFrom({ ...typed, ...change }, ['coil'])
      return read.ok ? [] : read.errors.map(({ field }) => field)
    }
    expect(errors({ label: '' })).toEqual(['label'])
    expect(errors({ codes: 'none' })).toEqual(['codes'])
    expect(errors({ [shownBy('coil')]: '0' })).toEqual([null])
    expect(errors({ kind: 'smell' })).toEqual(['kind'])
    expect(errors({ kind: 'road', codes: '' })).toEqual([])
  })

  test('a code that another sign has, or that is none, is said at the codes', () => {
    const read = (codes: string) =>
      signFrom({ ...typed, [shownBy('ignition-coil')]: '0.6', codes }, ['ignition-coil'])
    for (const codes of ['P0302', 'P99999']) {
      const sign = read(codes)
      const errors = sign.ok ? draftErrors(withSign(EXAMPLE_FAMILY, null, sign.value)) : []
      expect(errors.map(({ field }) => field)).toContain('codes')
    }
  })
})

describe('a draft', () => {
  test('the example is valid and has one of everything', () => {
    expect(draftErrors(EXAMPLE_FAMILY)).toEqual([])
  })

  test('what is taken out is gone wherever it was named; a changed one keeps its key', () => {
    const without = withoutWeakPoint(EXAMPLE_FAMILY, 'ignition-coil')
    expect(JSON.stringify(without)).not.toContain('ignition-coil')
    expect(draftErrors(without)).toEqual([])
    const read = weakPointFrom({ ...PUMP, component: 'Coil pack' }, 'km')
    const changed = withWeakPoint(EXAMPLE_FAMILY, 'ignition-coil', read.ok ? read.value : ({} as never))
    expect(changed.weakPoints[0]).toMatchObject({ key: 'ignition-coil', component: 'Coil pack' })
    expect(draftErrors(changed)).toEqual([])
    expect(withoutSign(EXAMPLE_FAMILY, 'misfire').signs).toHaveLength(1)
  })

  test('links go one way and stand once', () => {
    const again = withLink(EXAMPLE_FAMILY, { from: 'cover-gasket', to: 'ignition-coil', strength: 5 })
    expect(again.upstream).toEqual([{ from: 'cover-gasket', to: 'ignition-coil', strength: 5 }])
    const back = withLink(EXAMPLE_FAMILY, { from: 'ignition-coil', to: 'cover-gasket', strength: 2 })
    expect(draftErrors(back)).toEqual([{ field: 'to', message: expect.stringContaining('circle') }])
    expect(withoutLink(EXAMPLE_FAMILY, { from: 'cover-gasket', to: 'ignition-coil' }).upstream).toEqual([])
    expect(linkFrom({ from: 'a', to: 'a', strength: '2' }, ['a', 'b'])).toMatchObject({
      ok: false,
      errors: [{ field: 'to' }],
    })
  })

  test('keys are made from names, none twice and none that mean something else', () => {
    expect(keyFor('Plover 2.2 (ab 2019)', [])).toBe('plover-2.2-ab-2019')
    expect(keyFor('Zündspule', ['zundspule'])).toBe('zundspule-2')
    expect(keyFor('Other', [])).toBe('other-2')
    expect(keyFor('???', [])).toBe('no-name')
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), fc.array(fc.string()), (name, taken) => {
        const key = keyFor(name, taken)
        expect(taken).not.toContain(key)
        expect(draftErrors({ ...EMPTY, key })).toEqual([])
      }),
    )
  })

  test('goes into a library beside what is there, word for word', () => {
    const first = libraryWith(null, 'Ours', EXAMPLE_FAMILY)
    const second = libraryWith(first, 'Ours', EXAMPLE_FAMILY)
    const parsed = parseLibrary(second)
    expect(parsed.ok && parsed.library.families.map(({ key }) => key)).toEqual([
      'wagtail-1.4',
      'wagtail-1.4-2',
    ])
    expect(JSON.parse(second).families[0]).toEqual(JSON.parse(first).families[0])
  })
})
