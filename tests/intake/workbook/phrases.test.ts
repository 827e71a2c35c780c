import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { phraseKey, type Tie, wordKey } from '@/lib/intake/workbook/mapping'
import { guessTie, phrasesOf, positionsIn, splitPhrases } from '@/lib/intake/workbook/phrases'
import { DUNLIN } from '@/seed/library/dunlin'
import { KNOT } from '@/seed/library/knot'
import { makeLibrary } from '@/seed/library/library'
import { PLOVER } from '@/seed/library/plover'
import { SISKIN } from '@/seed/library/siskin'
import { engine, point } from '../../scoring/one-vehicle'
import { libraryOf } from '../../simulation/libraries'

/** Parts whose names share words, as those of an engine do. */
const { families } = engine([
  point('injector', 90_000, 180_000, 8_000, { component: 'Fuel injector', positions: 4 }),
  point('cover-seep', 60_000, 150_000, 20_000, { component: 'Cam cover', failureMode: 'seeps' }),
  point('pump-gasket', 80_000, 200_000, 15_000, { component: 'Vacuum pump gasket' }),
  point('water-leak', 80_000, 200_000, 15_000, { component: 'Water pump', failureMode: 'leaks' }),
  point('water-seize', 80_000, 200_000, 15_000, { component: 'Water pump', failureMode: 'bearing seizes' }),
  point('thermostat', 80_000, 200_000, 15_000, { component: 'Thermostat', failureMode: 'sticks' }),
  point('glow', 80_000, 200_000, 15_000, { component: 'Glow plug', positions: 4 }),
])

describe('a cell is cut into phrases', () => {
  test.each<[string, string[]]>([
    ['repl inj 3', ['repl inj 3']],
    ['repl inj 3; oil service', ['repl inj 3', 'oil service']],
    ['repl inj\nthermostat', ['repl inj', 'thermostat']],
    ['repl inj 1 & 3', ['repl inj 1 & 3']],
    ['repl inj 1, 3', ['repl inj 1, 3']],
    ['repl inj cyl 1 and 3, thermostat', ['repl inj cyl 1 and 3', 'repl thermostat']],
    ['repl inj, cyl 3', ['repl inj, cyl 3']],
    ['checked inj and glow plugs', ['checked inj', 'checked glow plugs']],
    ['inj 2 replaced, tested ok', ['inj 2 replaced, tested ok']],
    ['removed and replaced inj 4', ['removed, replaced inj 4']],
    ['r&r water pump + belt', ['r&r water pump', 'belt']],
    ['1,5 l oil', ['1,5 l oil']],
    ['Thermostat und Dichtung erneuert', ['Thermostat', 'Dichtung erneuert']],
    ['—', []],
    [' ; , ', []],
  ])('%j', (cell, phrases) => expect(splitPhrases(cell)).toEqual(phrases))

  test('no word of a cell is lost', () => {
    const word = fc.constantFrom(
      'repl',
      'inj',
      'and',
      'ok',
      'oil',
      '3',
      'cyl',
      ',',
      ';',
      '&',
      '\n',
      'r&r',
      'é',
    )
    fc.assert(
      fc.property(fc.array(word, { maxLength: 12 }), (words) => {
        const cell = words.join(' ')
        const found = splitPhrases(cell).join(' ')
        const kept = cell.match(/[\p{L}\d]+/gu)?.filter((each) => each !== 'and') ?? []
        for (const each of kept) expect(found).toContain(each)
      }),
    )
  })
})

describe('phrases are counted', () => {
  test('by their words, whatever their figures, the commonest first', () => {
    const values = [
      { text: 'Repl  inj 3; oil', count: 2 },
      { text: 'repl inj 1', count: 3 },
      { text: 'oil; OIL', count: 4 },
    ]
    expect(phrasesOf(values)).toEqual([
      { key: 'oil', example: 'oil', count: 6 },
      { key: 'repl inj #', example: 'Repl inj 3', count: 5 },
    ])
  })

  test('each text of a cell counts once a phrase, against counting them one by one', () => {
    const cell = fc.array(fc.constantFrom('repl inj 1', 'repl inj 22', 'oil', 'belt'), {
      minLength: 1,
      maxLength: 4,
    })
    fc.assert(
      fc.property(fc.array(cell, { maxLength: 8 }), (cells) => {
        const counts = new Map<string, number>()
        for (const phrases of cells)
          for (const key of new Set(phrases.map(phraseKey))) counts.set(key, (counts.get(key) ?? 0) + 1)
        const found = phrasesOf(cells.map((phrases) => ({ text: phrases.join('; '), count: 1 })))
        expect(new Map(found.map(({ key, count }) => [key, count]))).toEqual(counts)
      }),
    )
  })

  test('keys are the same once more', () =>
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(phraseKey(wordKey(text))).toBe(phraseKey(text))
      }),
    ))
})

describe('positions', () => {
  test.each<[string, number[]]>([
    ['repl inj 3', [3]],
    ['inj cyl 1 & 3', [1, 3]],
    ['inj no. 2, 4', [2, 4]],
    ['inj #3', [3]],
    ['Zyl. 1-4', [1, 2, 3, 4]],
    ['inj 1-3', [1, 2, 3]],
    ['4x inj', []],
    ['inj x4', []],
    ['mk2 inj', []],
    ['2.2 engine', []],
    ['inj 3 at 84210', [3]],
    ['inj 1,5', []],
    ['2 inj cyl 3', [3]],
  ])('%s', (phrase, positions) => expect(positionsIn(phrase)).toEqual(positions))
})

describe('what a phrase stands for', () => {
  const tie = (weakPoint: string, action: Tie['action'], found: Tie['found'] = '', positions = ''): Tie => ({
    weakPoints: { 'plover-22': weakPoint },
    action,
    found,
    positions,
  })
  test.each<[string, Tie | null]>([
    ['repl inj', tie('injector', 'renew')],
    ['REPL INJ #3', tie('injector', 'renew', '', 'number')],
    ['inj cyl 2 failed', tie('injector', 'renew', 'failed', 'number')],
    ['new injector fitted, old one leaking', tie('injector', 'renew', 'developing')],
    ['Einspritzdüse Zyl. 4 erneuert', tie('injector', 'renew', '', 'number')],
    ['injecteur remplacé', tie('injector', 'renew')],
    ['inyector cambiado', tie('injector', 'renew')],
    ['checked injectors', tie('injector', 'inspect')],
    ['checked injectors, no leaks', tie('injector', 'inspect')],
    ['Einspritzdüsen geprüft i.O.', tie('injector', 'inspect', 'sound')],
    ['cleaned injectors', tie('injector', 'partial')],
    ['temp fix injector', tie('injector', 'temporary')],
    ['all injectors replaced', tie('injector', 'renew', '', 'all')],
    ['injector', tie('injector', 'renew')],
    ['t-stat stuck, replaced thermostat', tie('thermostat', 'renew', 'failed')],
    ['rocker cover', tie('cover-seep', 'renew')],
    ['vac pump gasket', tie('pump-gasket', 'renew')],
    ['water pump leaking', tie('water-leak', 'inspect', 'developing')],
    ['water pump bearing', tie('water-seize', 'renew')],
    ['glow plugs x4', tie('glow', 'renew')],
  ])('%s', (phrase, expected) => expect(guessTie(phrase, families)).toEqual(expected))

  test.each([
    'oil service',
    'injector seal replaced',
    'vac pump',
    'fuel pump',
    'water pump',
    'brake pads',
    'pump',
    '3',
    '',
  ])('“%s” names none of them, or more than one', (phrase) => expect(guessTie(phrase, families)).toBeNull())

  test('retired weak points are offered for nothing new', () => {
    const { families: retired } = engine([point('injector', 90_000, 180_000, 8_000, { retired: true })])
    expect(guessTie('repl inj', retired)).toBeNull()
  })
})

describe('the parts of the demo’s engines', () => {
  const terms = { name: 'Demo', currency: 'EUR', priceLevel: 1, labourRate: 80, dayOffRoad: 100, visit: 50 }
  const library = libraryOf(makeLibrary(terms, [DUNLIN, KNOT, PLOVER, SISKIN]))
  const parts = library.families.flatMap((family) =>
    family.weakPoints.map(({ key, component }) => ({ family, key, component })),
  )

  test.each(parts)(
    '$key of $family.key is found by its name and by no other',
    ({ family, key, component }) => {
      expect(guessTie(`${component.toUpperCase()} replaced`, [family])?.weakPoints).toEqual({
        [family.key]: key,
      })
      const others = parts.filter((part) => part.family === family && part.key !== key)
      for (const other of others)
        expect(guessTie(`repl ${other.component}`, [family])?.weakPoints).not.toEqual({ [family.key]: key })
    },
  )
})
