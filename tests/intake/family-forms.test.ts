import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { EXAMPLE_FAMILY } from '@/lib/intake/example-family'
import {
  draftErrors,
  type FamilyDraft,
  familyIn,
  familyKeysIn,
  keyFor,
  libraryWith,
  withEngine,
  withLink,
  withoutLink,
  withoutRevision,
  withoutSign,
  withoutVariant,
  withoutWeakPoint,
  withRevision,
  withSign,
  withVariant,
  withWeakPoint,
  zonesFor,
} from '@/lib/intake/family-draft'
import {
  ABSENT,
  amountFrom,
  engineFrom,
  lastsIn,
  lifeFrom,
  linkFrom,
  reachedIn,
  reachedWith,
  revisionFrom,
  shownBy,
  signFrom,
  variantFrom,
  weakPointFrom,
} from '@/lib/intake/family-forms'
import { parseLibrary } from '@/lib/records/library'
import { LONGEST_NAME, LONGEST_TEXT } from '@/lib/records/text-limits'
import { EXAMPLE_LIBRARY } from '../records/example-library'

const PUMP = { component: 'Water pump', p10: '90 000', p50: '180.000', warning: '8,000', confidence: 'hunch' }
const EMPTY: FamilyDraft = { key: 'x', name: 'X', cylinders: 4, weakPoints: [] }

test.each([
  ['component', LONGEST_NAME],
  ['part', LONGEST_NAME],
  ['failureMode', LONGEST_TEXT],
  ['grounds', LONGEST_TEXT],
])('%s is at most so long, and the form says so at the field', (field, most) => {
  const typed = (letters: number) => weakPointFrom({ ...PUMP, [field]: 'x'.repeat(letters) }, 'km')
  expect(typed(most).ok).toBe(true)
  expect(typed(most + 1)).toEqual({
    ok: false,
    errors: [{ field, message: `Shorten it to ${most.toLocaleString('en')} characters.` }],
  })
})

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
    expect([keyFor('Compare', []), keyFor('Take in', [])]).toEqual(['compare-2', 'take-in-2'])
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
    const another = { ...EXAMPLE_FAMILY, key: keyFor(EXAMPLE_FAMILY.key, familyKeysIn(first)) }
    const second = libraryWith(first, 'Ours', another)
    expect(familyKeysIn(second)).toEqual(['wagtail-1.4', 'wagtail-1.4-2'])
    expect(familyIn(second, 'wagtail-1.4')).toEqual(familyIn(first, 'wagtail-1.4'))
    expect(parseLibrary(second).ok).toBe(true)
    expect(familyIn(second, 'no-such')).toBeNull()
  })

  test('of one that is in force takes its place, and adds its new places to the end of the walk', () => {
    const content = JSON.stringify(EXAMPLE_LIBRARY)
    const before = familyIn(content, 'plover-22')!
    const [first, ...others] = before.weakPoints
    const changed = { ...before, weakPoints: [{ ...first!, zone: 'behind the dash' }, ...others] }
    const next = libraryWith(content, 'Ours', changed)
    expect(familyKeysIn(next)).toEqual(familyKeysIn(content))
    expect(JSON.parse(next).zones).toEqual([...EXAMPLE_LIBRARY.zones, 'behind the dash'])
    expect(zonesFor(content, changed).at(-1)).toBe('behind the dash')
    expect(JSON.parse(libraryWith(content, 'Ours', before))).toEqual(EXAMPLE_LIBRARY)
    expect(parseLibrary(next).ok).toBe(true)
  })

  test('keeps what a form does not ask about', () => {
    const family = familyIn(JSON.stringify(EXAMPLE_LIBRARY), 'plover-22')!
    const before = { ...family.weakPoints[0]!, duty: { short: 1, mixed: 1.1, long: 1 } }
    const read = weakPointFrom(PUMP, 'km')
    expect(read.ok).toBe(true)
    if (!read.ok) return
    const draft = withWeakPoint({ ...family, weakPoints: [before] }, before.key, read.value)
    const { access, asASet, revisions, variants, cost, duty } = draft.weakPoints[0]!
    expect({ access, asASet, revisions, variants }).toEqual({
      access: before.access,
      asASet: before.asASet,
      revisions: before.revisions,
      variants: before.variants,
    })
    expect(cost?.sharedHours).toBe(before.cost?.sharedHours)
    expect(duty?.mixed).toBe(1.1)
  })
})

describe('versions of a part from their form', () => {
  const MARK = { name: 'Mk 2', lasts: '1,5', confidence: 'hunch' }

  test('are what a library file says of one', () => {
    expect(revisionFrom(MARK)).toEqual({
      ok: true,
      value: { name: 'Mk 2', lifeFactor: 1.5, confidence: 'hunch', temporary: false, retired: false },
    })
  })

  test.each([
    [{ ...MARK, name: ' ' }, 'name'],
    [{ ...MARK, lasts: '' }, 'lasts'],
    [{ ...MARK, lasts: '0' }, 'lasts'],
    [{ ...MARK, lasts: 'long' }, 'lasts'],
    [{ ...MARK, confidence: '' }, 'confidence'],
  ])('%o says what to mend', (typed, field) => {
    expect(revisionFrom(typed)).toMatchObject({ ok: false, errors: [{ field }] })
  })

  test('come, change under their key, and go', () => {
    const read = revisionFrom(MARK)
    if (!read.ok) throw new Error('not read')
    const one = withRevision(EXAMPLE_FAMILY, 'ignition-coil', null, read.value)
    const revisionsOf = (draft: FamilyDraft) => draft.weakPoints[0]!.revisions
    expect(revisionsOf(one)).toMatchObject([{ key: 'mk-2', lifeFactor: 1.5 }])
    const two = withRevision(one, 'ignition-coil', 'mk-2', { ...read.value, name: 'Mk II' })
    expect(revisionsOf(two)).toMatchObject([{ key: 'mk-2', name: 'Mk II' }])
    expect(draftErrors(two)).toEqual([])
    expect(revisionsOf(withoutRevision(two, 'ignition-coil', 'mk-2'))).toEqual([])
    const endless = withRevision(one, 'ignition-coil', 'mk-2', { ...read.value, lifeFactor: 2000 })
    expect(draftErrors(endless)).toMatchObject([{ field: 'lasts' }])
  })
})

describe('versions of the engine from their form', () => {
  const KEYS = EXAMPLE_FAMILY.weakPoints.map(({ key }) => key)
  const [coil, gasket] = KEYS as [string, string]
  const read = (typed: object) => {
    const answer = variantFrom({ name: 'early', confidence: 'hunch', ...typed }, KEYS)
    if (!answer.ok) throw new Error(JSON.stringify(answer.errors))
    return answer.value
  }
  const effectsIn = (draft: FamilyDraft) => draft.weakPoints.map(({ variants = {} }) => variants.early)

  test('say what each weak point does in them', () => {
    const value = read({ [lastsIn(coil)]: '0.8', [lastsIn(gasket)]: ABSENT })
    const draft = withVariant(EXAMPLE_FAMILY, null, value)
    expect(draft.variants).toMatchObject([{ key: 'early', name: 'early' }])
    expect(effectsIn(draft)).toEqual([{ lifeFactor: 0.8, confidence: 'hunch' }, { absent: true }])
    expect(draftErrors(draft)).toEqual([])
    expect(effectsIn(withoutVariant(draft, 'early'))).toEqual([undefined, undefined])
    expect(variantFrom({ name: '' }, KEYS)).toMatchObject({
      errors: [{ field: 'name' }, { field: 'confidence' }],
    })
  })

  test('leave as sure as it was what they leave as it was', () => {
    const draft = withVariant(EXAMPLE_FAMILY, null, read({ [lastsIn(coil)]: '0.8' }))
    const surer = { confidence: 'documented', [lastsIn(coil)]: '0.8', [lastsIn(gasket)]: '1.5' }
    expect(effectsIn(withVariant(draft, 'early', read(surer)))).toEqual([
      { lifeFactor: 0.8, confidence: 'hunch' },
      { lifeFactor: 1.5, confidence: 'documented' },
    ])
    const back = read({ [lastsIn(coil)]: '1', [lastsIn(gasket)]: '1' })
    expect(effectsIn(withVariant(draft, 'early', back))).toEqual([undefined, undefined])
  })
})

describe('the engine as a whole from its form', () => {
  const points = EXAMPLE_FAMILY.weakPoints
  const [coil, gasket] = points.map(({ key }) => key) as [string, string]
  const TOGETHER = {
    name: ' Wagtail 1.6 ',
    cylinders: '4',
    [reachedWith(coil)]: 'engine cover',
    [reachedIn(coil)]: '0,3',
    [reachedWith(gasket)]: 'engine cover',
    [reachedIn(gasket)]: '0.3',
  }
  const read = (typed: object) => {
    const answer = engineFrom({ ...TOGETHER, ...typed }, points)
    if (!answer.ok) throw new Error(JSON.stringify(answer.errors))
    return answer.value
  }

  test('gives it its name, its cylinders, and what is reached together; its key and the rest stay', () => {
    const draft = withEngine(EXAMPLE_FAMILY, read({}))
    expect(draft).toMatchObject({ key: EXAMPLE_FAMILY.key, name: 'Wagtail 1.6', cylinders: 4 })
    expect(draft.weakPoints.map(({ access, cost }) => [access, cost?.sharedHours, cost?.hours])).toEqual([
      ['engine cover', 0.3, 0.4],
      ['engine cover', 0.3, 1.2],
    ])
    expect(draft.signs).toEqual(EXAMPLE_FAMILY.signs)
    expect(draftErrors(draft)).toEqual([])
    const alone = { [reachedWith(coil)]: '', [reachedIn(coil)]: '' }
    const [first] = withEngine(draft, read(alone)).weakPoints
    expect([first?.access, first?.cost?.sharedHours]).toEqual([null, 0])
  })

  test.each([
    [{ name: ' ' }, 'name'],
    [{ cylinders: '' }, 'cylinders'],
    [{ cylinders: '0' }, 'cylinders'],
    [{ cylinders: '100' }, 'cylinders'],
    [{ cylinders: '2.5' }, 'cylinders'],
    [{ cylinders: 'four' }, 'cylinders'],
    [{ [reachedIn(coil)]: 'some' }, reachedIn(coil)],
    [{ [reachedIn(coil)]: '-1' }, reachedIn(coil)],
    [{ [reachedIn(coil)]: '0.5' }, reachedIn(coil)],
    [{ [reachedWith(coil)]: ' ' }, reachedWith(coil)],
  ])('%o says what to mend', (typed, field) => {
    expect(engineFrom({ ...TOGETHER, ...typed }, points)).toMatchObject({ ok: false, errors: [{ field }] })
  })

  test('what there is one a cylinder of goes with the cylinders, parts and signs; the rest stays', () => {
    const pairs = { ...points[1]!, positions: 2 }
    const draft: FamilyDraft = {
      ...EXAMPLE_FAMILY,
      weakPoints: [points[0]!, pairs],
      signs: [
        ...EXAMPLE_FAMILY.signs!,
        { key: 'wet', kind: 'visual', positions: 4, causes: [{ weakPoint: coil, detect: 0.5 }] },
      ],
    }
    const six = withEngine(draft, read({ cylinders: '6' }))
    expect(six.weakPoints.map(({ positions }) => positions)).toEqual([6, 2])
    expect(six.signs?.map(({ positions }) => positions)).toEqual([
      ...EXAMPLE_FAMILY.signs!.map(() => undefined),
      6,
    ])
    const parsed = parseLibrary(libraryWith(null, 'L', six))
    if (!parsed.ok) throw new Error(parsed.errors[0]?.message)
    const misfire = parsed.library.families[0]!.signs.find(({ key }) => key === 'misfire')
    expect(misfire?.positions).toBe(6)
  })

  test('of an engine of one cylinder nothing is one a cylinder', () => {
    const one = {
      ...EXAMPLE_FAMILY,
      cylinders: 1,
      weakPoints: points.map((each) => ({ ...each, positions: 1 })),
    }
    const four = withEngine(one, read({}))
    expect(four.weakPoints.map(({ positions }) => positions)).toEqual([1, 1])
  })
})
