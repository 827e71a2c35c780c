import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { parseLibrary } from '@/lib/records/library'
import { libraryJsonSchema } from '@/lib/records/library-json-schema'
import { LONGEST_NAME, LONGEST_TEXT } from '@/lib/records/text-limits'
import { runs } from '../runs'
import { EXAMPLE_LIBRARY, exampleLibrary } from './example-library'

type Json = string | number | boolean | null | Json[] | { [key: string]: Json }

/** The example with one place in it changed, and what is said about it. */
function errorsWith(path: string, value: Json | undefined): string[] {
  const document: unknown = structuredClone(EXAMPLE_LIBRARY)
  const steps = path.split('.')
  const last = steps.pop() ?? ''
  let at = document
  for (const step of steps) at = Reflect.get(Object(at), step)
  if (value === undefined) Reflect.deleteProperty(Object(at), last)
  else Reflect.set(Object(at), last, value)
  const parsed = parseLibrary(JSON.stringify(document))
  return parsed.ok ? [] : parsed.errors.map((error) => `${error.place}: ${error.message}`)
}

const INJECTOR = 'families.0.weakPoints.0'
const MISFIRE = 'families.0.signs.0'

test.each([
  ['name', 'name', LONGEST_NAME],
  [`${INJECTOR}.key`, 'families[plover-22].weakPoints[0].key', LONGEST_NAME],
  [`${INJECTOR}.component`, 'families[plover-22].weakPoints[injector].component', LONGEST_NAME],
  [`${INJECTOR}.part`, 'families[plover-22].weakPoints[injector].part', LONGEST_NAME],
  [`${INJECTOR}.statedBy`, 'families[plover-22].weakPoints[injector].statedBy', LONGEST_NAME],
  [`${INJECTOR}.cautions.0`, 'families[plover-22].weakPoints[injector].cautions[0]', LONGEST_TEXT],
  [`${INJECTOR}.grounds`, 'families[plover-22].weakPoints[injector].grounds', LONGEST_TEXT],
  [`${MISFIRE}.label`, 'families[plover-22].signs[misfire].label', LONGEST_NAME],
  [`${MISFIRE}.how`, 'families[plover-22].signs[misfire].how', LONGEST_TEXT],
  ['zones.0', 'zones[0]', LONGEST_NAME],
])('a text that is too long is said with its place and the limit: %s', (path, place, most) => {
  const found = errorsWith(path, 'x'.repeat(most + 1))
  expect(found[0]).toMatch(/: found a text of \d+ characters, expected at most \d+$/)
  expect(found[0]).toContain(`found a text of ${most + 1} characters, expected at most ${most}`)
  if (!path.endsWith('key')) expect(found[0]?.split(': ')[0]).toBe(place)
  const just = errorsWith(path, 'x'.repeat(most))
  expect(just.filter((error) => error.includes('characters'))).toEqual([])
})

test('no text of a library is without a limit, but for the address of the schema and what refers to a key', () => {
  const unlimited: string[] = []
  const walk = (schema: unknown, path: string): void => {
    if (typeof schema !== 'object' || schema === null) return
    const { type, maxLength, enum: words, const: word, format, pattern } = schema as Record<string, unknown>
    const isFree = type === 'string' && maxLength === undefined && words === undefined && word === undefined
    const isShort = format === 'date' || pattern === '^[A-Z]{3}$'
    if (isFree && !isShort) unlimited.push(path.split('.').at(-1)!)
    for (const [key, value] of Object.entries(schema)) {
      const own = [
        'properties',
        'items',
        'anyOf',
        '0',
        '1',
        'additionalProperties',
        'propertyNames',
      ].includes(key)
      walk(value, own ? path : `${path}.${key}`)
    }
  }
  walk(libraryJsonSchema(), '')
  expect(unlimited.sort()).toEqual(['$schema', 'from', 'to', 'variants', 'weakPoint'])
})

describe('a library file', () => {
  test('is read with every default applied', () => {
    const family = exampleLibrary().families[0]
    expect(family?.weakPoints[1]).toEqual({
      key: 'cover-seep',
      component: 'Cam cover',
      failureMode: '',
      clock: 'distance',
      positions: 1,
      onset: { p10: 60000, p50: 150000 },
      warning: 20000,
      confidence: 'hunch',
      revisions: [],
      variants: {},
      duty: { short: 1, mixed: 1, long: 1 },
      severity: 'plan',
      harm: false,
      renewEvery: null,
      success: 0.98,
      restored: 0.5,
      cost: { parts: 0, hours: 0, sharedHours: 0, failureExtra: 0, daysOff: 0 },
      access: null,
      part: null,
      asASet: false,
      zone: null,
      cautions: [],
      grounds: null,
      retired: false,
    })
    expect(family?.signs[1]).toEqual({
      key: 'oil-seep',
      label: 'oil-seep',
      kind: 'visual',
      codes: [],
      zone: null,
      how: null,
      lamp: false,
      leak: 0.005,
      stop: false,
      hours: null,
      positions: 1,
      positioned: false,
      causes: [{ weakPoint: 'cover-seep', detect: 0.6 }],
      retired: false,
    })
  })

  test('gives a sign with # in a code one position for each cylinder', () =>
    expect(exampleLibrary().families[0]?.signs[0]).toMatchObject({ positions: 4, positioned: true }))

  test('may leave prices, looks and names out', () => {
    const { labourRate, dayOffRoad, visit, slotDays, looks, ...rest } = EXAMPLE_LIBRARY
    const parsed = parseLibrary(JSON.stringify({ ...rest, looks: { scan: { hours: 1 } } }))
    expect(parsed.ok && parsed.library).toMatchObject({
      currency: null,
      labourRate: 0,
      dayOffRoad: 0,
      visit: 0,
      slotDays: 14,
      looks: { scan: { hours: 1 }, visual: { hours: 0.2 }, road: { hours: 0.4 }, measure: { hours: 0.8 } },
    })
  })
})

describe('an error in a library names its place, what was found, what was expected and the nearest known name', () => {
  test.each<[string, string, Json | undefined, string]>([
    [
      'an unknown key',
      `${INJECTOR}.warnings`,
      1,
      'families[plover-22].weakPoints[injector]: unknown key: "warnings" is not one of: key, component, failureMode, clock, positions, onset, warning, confidence, revisions, variants, duty, severity, …; did you mean "warning"?',
    ],
    [
      'a missing key',
      `${INJECTOR}.onset.p50`,
      undefined,
      'families[plover-22].weakPoints[injector].onset.p50: found nothing, expected a number',
    ],
    [
      'another kind of value',
      `${INJECTOR}.positions`,
      'four',
      'families[plover-22].weakPoints[injector].positions: found "four", expected a number',
    ],
    [
      'a share above 1',
      `${MISFIRE}.causes.0.detect`,
      35,
      'families[plover-22].signs[misfire].causes[0].detect: found 35, expected at most 1',
    ],
    [
      'a negative leak',
      `${MISFIRE}.leak`,
      -0.1,
      'families[plover-22].signs[misfire].leak: found -0.1, expected at least 0',
    ],
    [
      'an unknown word',
      `${INJECTOR}.confidence`,
      'documentd',
      'families[plover-22].weakPoints[injector].confidence: "documentd" is not one of: hunch, experience, documented; did you mean "documented"?',
    ],
    [
      'ages too close',
      `${INJECTOR}.onset`,
      { p10: 100, p50: 110 },
      'families[plover-22].weakPoints[injector].onset: found {"p10":100,"p50":110}, expected p50 to be 1.2 to 43 times p10',
    ],
    [
      'ages too far apart',
      `${INJECTOR}.onset`,
      { p10: 1, p50: 44 },
      'families[plover-22].weakPoints[injector].onset: found {"p10":1,"p50":44}, expected p50 to be 1.2 to 43 times p10',
    ],
    [
      'a cause that is no weak point',
      `${MISFIRE}.causes.0.weakPoint`,
      'injecter',
      'families[plover-22].signs[misfire].causes: "injecter" is not one of: injector, cover-seep, pump-gasket; did you mean "injector"?',
    ],
    [
      'an upstream end that is no weak point',
      'families.0.upstream.0.to',
      'pump',
      'families[plover-22].upstream[0].to: "pump" is not one of: injector, cover-seep, pump-gasket',
    ],
    [
      'a variant that the family does not have',
      `${INJECTOR}.variants`,
      { erly: { lifeFactor: 1 } },
      'families[plover-22].weakPoints[injector].variants: "erly" is not one of: early; did you mean "early"?',
    ],
    [
      'a zone that the walk does not have',
      `${INJECTOR}.zone`,
      'inlet',
      'families[plover-22].weakPoints[injector].zone: "inlet" is not one of: front, inlet side, top, exhaust side, below, cab (the library\'s zones)',
    ],
    [
      'a double key',
      'families.0.weakPoints.1.key',
      'injector',
      'families[plover-22].weakPoints: found the key "injector" twice, expected each once',
    ],
    [
      'a reserved weak point',
      'families.0.weakPoints.2.key',
      'other',
      'families[plover-22].weakPoints[other]: the key "other" is reserved for work beside the rest',
    ],
    [
      'a reserved sign',
      'families.0.signs.1.key',
      'lamp-on',
      'families[plover-22].signs[lamp-on]: the key "lamp-on" is reserved for a lamp that nobody has read',
    ],
    [
      'a code of two signs',
      'families.0.signs.1.codes',
      ['P0303'],
      'families[plover-22].signs[oil-seep].codes: found P0303, which belongs to the sign "misfire" already',
    ],
    [
      'a code of no form',
      `${MISFIRE}.codes`,
      ['P03#1'],
      'families[plover-22].signs[misfire].codes: found "P03#1", expected a code like P0302, P030# or 651:5',
    ],
    [
      'a loop',
      'families.0.upstream',
      [
        { from: 'cover-seep', to: 'pump-gasket', strength: 3 },
        { from: 'pump-gasket', to: 'injector', strength: 2 },
        { from: 'injector', to: 'cover-seep', strength: 2 },
      ],
      'families[plover-22].upstream: found a loop: cover-seep → pump-gasket → injector → cover-seep; expected damage to go one way',
    ],
    [
      'a link to itself',
      'families.0.upstream.0.to',
      'cover-seep',
      'families[plover-22].upstream: found a loop: cover-seep → cover-seep; expected damage to go one way',
    ],
    [
      'another format',
      'format',
      'gudgeon-library/2',
      'format: "gudgeon-library/2" is not one of: gudgeon-library/1; did you mean "gudgeon-library/1"?',
    ],
  ])('%s', (_, path, value, said) => expect(errorsWith(path, value)).toContain(said))

  test('every error is listed, not the first alone', () =>
    expect(errorsWith(INJECTOR, { key: 'injector' }).length).toBeGreaterThan(3))

  test.each(['', '{', 'null', '[]', '42', '\u0000\u0001'])(
    'text that is no library (%j) is refused in words',
    (text) => {
      const parsed = parseLibrary(text)
      expect(parsed.ok).toBe(false)
      expect(!parsed.ok && parsed.errors.every((error) => error.place !== '' && error.message !== '')).toBe(
        true,
      )
    },
  )
})

describe('whatever JSON stands in a library, it is read or every error has a place and a message', () => {
  const wellSaid = (text: string) => {
    const parsed = parseLibrary(text)
    if (parsed.ok) return
    expect(parsed.errors.length).toBeGreaterThan(0)
    for (const { place, message } of parsed.errors) {
      expect(place).not.toBe('')
      expect(message).toMatch(/found|expected|is not one of|reserved/)
      expect(message).not.toMatch(/undefined|\[object/)
    }
  }
  test('any JSON', () => fc.assert(fc.property(fc.json(), wellSaid)))
  test('any text', () => fc.assert(fc.property(fc.string(), wellSaid)))

  const places = placesIn(EXAMPLE_LIBRARY)
  test('the example with any value at any place', () =>
    fc.assert(
      fc.property(fc.constantFrom(...places), fc.jsonValue(), (place, value) => {
        const document: unknown = structuredClone(EXAMPLE_LIBRARY)
        const parent = place
          .slice(0, -1)
          .reduce((at: unknown, step) => Reflect.get(Object(at), step), document)
        Reflect.set(Object(parent), place.at(-1) ?? '', value)
        wellSaid(JSON.stringify(document))
      }),
      { numRuns: runs(500) },
    ))
})

/** The path of everything in a document. */
function placesIn(value: unknown): string[][] {
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([name, member]) => [
    [name],
    ...placesIn(member).map((below) => [name, ...below]),
  ])
}

test('a text that no database can keep is told; its escape, written out, is a text like any other', () => {
  const named = (name: string) => parseLibrary(JSON.stringify({ ...EXAMPLE_LIBRARY, name }))
  expect(named('Reed \u0000 Sedge')).toEqual({
    ok: false,
    errors: [{ place: 'the file', message: 'found \\u0000 in a text, which no text can hold' }],
  })
  expect(named('Reed \\u0000 Sedge').ok).toBe(true)
})

test('the published JSON Schema is the one made from the Zod schema', () => {
  const published: unknown = JSON.parse(readFileSync('public/library.schema.json', 'utf8'))
  expect(published).toEqual(JSON.parse(JSON.stringify(libraryJsonSchema())))
})
