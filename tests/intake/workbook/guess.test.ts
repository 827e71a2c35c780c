import { describe, expect, test } from 'vitest'
import { guessAnew, guessMapping } from '@/lib/intake/workbook/guess'
import type { Mapping, Meaning } from '@/lib/intake/workbook/mapping'
import { MEANINGS } from '@/lib/intake/workbook/mapping'
import { profileWorkbook } from '@/lib/intake/workbook/profile-workbook'
import type { Workbook } from '@/lib/intake/workbook/sheets'
import { exampleLibrary } from '../../records/example-library'
import { engine, point, sign } from '../../scoring/one-vehicle'
import { bringIn, groundOf } from './bring-in'
import {
  dealerStock,
  fleetSheet,
  scannerText,
  sheetOf,
  shopInvoices,
  trackerExport,
  type Written,
} from './messy-workbooks'

const guess = (workbook: Workbook, remembered: Mapping[] = [], library = exampleLibrary()) =>
  guessMapping(profileWorkbook(workbook), groundOf(library, remembered))
const meanings = (mapping: Mapping, sheet: string): Record<string, Meaning> =>
  Object.fromEntries(
    Object.entries(mapping.sheets[sheet]?.columns ?? {}).map(([key, { meaning }]) => [key, meaning]),
  )
const oneSheet = (header: string[], ...rows: Written[][]): Workbook => ({
  sheets: [sheetOf('Any', [header, ...rows])],
})

describe('five workbooks that nobody made for us are guessed right', () => {
  test.each<[string, Workbook, string, string[], Meaning[]]>([
    [
      'a fleet’s single sheet',
      fleetSheet(),
      'Fleet',
      ['vehicles', 'readings', 'repairs'],
      ['unit', 'plate', 'engine', 'site', 'date', 'odometer', 'work', 'note'],
    ],
    [
      'invoices of a shop',
      shopInvoices(),
      'Rechnungen',
      ['vehicles', 'readings', 'repairs'],
      ['ref', 'date', 'plate', 'customer', 'engine', 'odometer', 'work', 'partsCost', 'labourHours'],
    ],
    [
      'a dealer’s stock',
      dealerStock(),
      'Stock',
      ['vehicles', 'readings'],
      [
        'unit',
        'plate',
        'vin',
        'engine',
        'builtOn',
        'odometer',
        'acquiredOn',
        'acquiredFrom',
        'purchasePrice',
        'askingPrice',
        'status',
      ],
    ],
    ['a tracker’s export', trackerExport(), 'Trips', ['readings'], ['source', 'unit', 'date', 'odometer']],
    [
      'a scanner’s text',
      scannerText(),
      'scans',
      ['readings', 'codes'],
      ['unit', 'date', 'odometer', 'codes'],
    ],
  ])('%s', (_, workbook, sheet, tells, columns) => {
    const mapping = guess(workbook)
    expect(mapping.sheets[sheet]?.tells).toEqual(tells)
    expect(Object.values(meanings(mapping, sheet))).toEqual(columns)
  })
})

describe('headers', () => {
  test('our own columns are what they are', () => {
    for (const meaning of Object.keys(MEANINGS) as Meaning[]) {
      for (const [kind, column] of Object.entries(MEANINGS[meaning].fills)) {
        // A list of parts in stock is known by several columns together.
        if (kind === 'parts' || ['kind', 'state'].includes(column)) continue
        const sample = MEANINGS[meaning].reads === 'date' ? '2026-05-01' : meaning === 'codes' ? 'P0302' : '1'
        const written = meaning === 'work' || meaning === 'signs' ? 'some words' : sample
        const mapping = guess(oneSheet(['x', column], ['a', written], ['b', written]))
        expect([column, meanings(mapping, 'Any')[column]]).toEqual([column, meaning])
      }
    }
  })

  test.each<[string, Written, Meaning]>([
    ['Fahrzeug-Nr.', 'W12', 'unit'],
    ['Amtl. Kennzeichen', 'AB 12', 'plate'],
    ['Fahrgestellnummer', '1M8GDM9AXKP042788', 'vin'],
    ['Km-Stand', '84.210', 'odometer'],
    ['Kilométrage', '84 210', 'odometer'],
    ['Kilometraje', '84.210', 'odometer'],
    ['Fecha', '13/05/2026', 'date'],
    ['Date of job', '13/05/2026', 'date'],
    ['Erstzulassung', '13.05.2019', 'inServiceOn'],
    ['Baujahr', 2019, 'builtOn'],
    ['Durchgeführte Arbeiten', 'Thermostat erneuert', 'work'],
    ['Travaux', 'thermostat remplacé', 'work'],
    ['Fault codes', 'P0302', 'codes'],
    ['Remarks', 'P0302, P0401', 'codes'],
    ['Anything', '1M8GDM9AXKP042788', 'vin'],
    ['Anything', 'thermostat replaced', 'work'],
    ['Anything', '84 210 km', 'odometer'],
    ['Anything', '13 May 2026', 'date'],
    ['Date', 'as soon as possible', 'note'],
    ['Odometer', 'see file', 'note'],
    ['Anything', 'green', 'note'],
    ['Type', 'Plover 2.2', 'engine'],
    ['Purchased', '2019-06-01', 'acquiredOn'],
    ['Last service', '2026-01-10', 'note'],
    ['Next MOT date', '2026-11-10', 'note'],
    ['Km at last service', 84_210, 'note'],
  ])('%s with %s', (header, written, meaning) => {
    const mapping = guess(oneSheet(['x', header], ['a', written], ['b', written]))
    expect(Object.values(meanings(mapping, 'Any'))[1]).toBe(meaning)
  })

  test('a second column that says the same is kept as a note; several of work and of codes count', () => {
    const header = ['Vehicle', 'Date in', 'Date out', 'Work', 'More work', 'DTC 1', 'DTC 2']
    const row = ['V1', '2026-05-01', '2026-05-02', 'oil changed', 'thermostat replaced', 'P0302', 'P0401']
    expect(Object.values(meanings(guess(oneSheet(header, row, row)), 'Any'))).toEqual([
      'unit',
      'date',
      'note',
      'work',
      'work',
      'codes',
      'codes',
    ])
  })

  test('a VIN that is all that names a vehicle tells of none', () => {
    const scan = oneSheet(['VIN', 'Date', 'DTCs'], ['1M8GDM9AXKP042788', '2026-05-01', 'P0302'])
    expect(guess(scan).sheets.Any?.tells).toEqual(['codes'])
  })

  test('a sheet that names no vehicle tells of nothing', () => {
    const prices = oneSheet(
      ['Part', 'Description', 'Price'],
      ['INJ-22', 'Injector', '180'],
      ['T-1', 'Thermostat', '22'],
    )
    expect(guess(prices).sheets.Any?.tells).toEqual([])
  })
})

describe('what is decided once a column', () => {
  const column = (values: Written[], header = 'Date') => {
    const rows = values.map((value, i) => [`V${i}`, value, '5.1.2026'])
    return Object.values(
      guess(oneSheet(['Vehicle', header, 'Bought on'], ...rows)).sheets.Any?.columns ?? {},
    )[1]
  }
  test.each<[Written[], string | null]>([
    [['3/4/2025', '25/4/2025'], 'day-first'],
    [['3/4/2025', '4/25/2025'], 'month-first'],
    [['3/4/2025', '5/6/2025'], null],
    [['25/4/2025', '4/25/2025'], null],
    [['2025-04-03', '2025-04-13'], 'iso'],
  ])('the order of %j is %s', (values, order) => expect(column(values)?.order).toBe(order))

  test('another column of the same sheet may decide', () => {
    const workbook = oneSheet(
      ['Vehicle', 'Date', 'Bought on'],
      ['V1', '3/4/2025', '25/1/2025'],
      ['V2', '5/6/2025', '1/2/2025'],
    )
    const decided = Object.values(guess(workbook).sheets.Any?.columns ?? {}).map(({ order }) => order)
    expect(decided).toEqual([null, 'day-first', 'day-first'])
  })

  test.each<[string, Written[], string | null]>([
    ['Odo', ['84.210', '91.004'], 'comma'],
    ['Odo', ['84,210', '91,004'], 'point'],
    ['Odo', ['84.210,5', '91.004'], 'comma'],
    ['Value', ['1.250', '2.300'], null],
    ['Value', ['1.250,50', '2.300'], 'comma'],
  ])('the decimal mark of %s %j is %s', (header, values, decimal) =>
    expect(column(values, header)?.decimal).toBe(decimal),
  )

  test.each<[string, Written[], string]>([
    ['Odo (mi)', [52_300, 61_000], 'mi'],
    ['Odo', ['52,300 miles', '61,000 miles'], 'mi'],
    ['km', [52_300, 61_000], 'km'],
    ['Odo', [52_300, 61_000], 'km'],
  ])('%s %j is in %s', (header, values, distance) => expect(column(values, header)?.distance).toBe(distance))
})

describe('words', () => {
  const library = engine(
    [point('injector', 90_000, 180_000, 8_000)],
    [
      sign('misfire', 'code', { injector: 0.5 }, { label: 'Misfire on one cylinder', codes: ['P030#'] }),
      sign('oil-seep', 'visual', { injector: 0.1 }, { label: 'Oil seeps at the cover' }),
    ],
  )
  const valuesOf = (header: string, ...words: string[]) => {
    const rows = words.map((word, i) => [`V${i}`, word, 'oil changed'])
    return guess(oneSheet(['Vehicle', header, 'Work'], ...rows), [], library).values
  }

  test('engines by key, name, size', () =>
    expect(
      valuesOf('Engine', 'plover-22', 'PLOVER 2.2', '2,2 l', '2200 cc diesel', 'finch 1.6').engine,
    ).toEqual({
      'plover-22': 'plover-22',
      'plover 2.2': 'plover-22',
      '2,2 l': 'plover-22',
      '2200 cc diesel': 'plover-22',
    }))

  test('two engines of one size are told apart by their names alone', () => {
    const two = {
      ...library,
      families: [library.families[0]!, { ...library.families[0]!, key: 'heron-22', name: 'Heron 2.2' }],
    }
    const rows = ['2.2', 'Heron', 'heron 2.2'].map((word, i) => [`V${i}`, word])
    expect(guess(oneSheet(['Vehicle', 'Engine'], ...rows), [], two).values.engine).toEqual({
      heron: 'heron-22',
      'heron 2.2': 'heron-22',
    })
  })

  test('states, uses and payers', () => {
    expect(valuesOf('Status', 'For sale', 'verkauft', 'in use', 'scrapped', 'lent').status).toEqual({
      'for sale': 'stock',
      verkauft: 'sold',
      'in use': 'active',
      scrapped: 'retired',
    })
    expect(valuesOf('Usage', 'city', 'motorway', 'mixed').duty).toEqual({
      city: 'short',
      motorway: 'long',
      mixed: 'mixed',
    })
    expect(valuesOf('Paid by', 'Customer', 'warranty claim', 'us').paidBy).toEqual({
      customer: 'customer',
      'warranty claim': 'warranty',
      us: 'own',
    })
  })

  test('signs by their words, with the cylinder; "ok" saw nothing', () =>
    expect(
      valuesOf('Symptoms', 'oil seep', 'misfire cyl 3', 'engine light on', 'ok', 'rattles').signs,
    ).toEqual({
      'oil seep': 'oil-seep',
      'misfire cyl 3': 'misfire@3',
      'engine light on': 'lamp-on',
      ok: 'none',
    }))
})

describe('what was said of an earlier workbook', () => {
  const said = (): Mapping => {
    const { mapping } = bringIn(fleetSheet(), { answers: { before: 'full' } })
    const columns = mapping.sheets.Fleet?.columns ?? {}
    if (columns.depot) columns.depot.meaning = 'customer'
    mapping.values.engine = { electric: 'plover-22' }
    mapping.work['oil service'] = {
      weakPoints: { 'plover-22': 'cover-seep' },
      action: 'inspect',
      found: '',
      positions: '',
    }
    return mapping
  }

  test('is taken over where the columns are the same: columns, answers, words and phrases', () => {
    const mapping = guess(fleetSheet(), [said()])
    expect(meanings(mapping, 'Fleet').depot).toBe('customer')
    expect(mapping.sheets.Fleet?.answers.before).toBe('full')
    expect(mapping.values.engine).toEqual({
      electric: 'plover-22',
      '2.2 diesel': 'plover-22',
      'plover 2.2': 'plover-22',
    })
    expect(mapping.work['oil service']?.action).toBe('inspect')
  })

  test('an engine that the library no longer has is guessed anew', () => {
    const earlier = said()
    earlier.values.engine = { '2.2 diesel': 'gone-22/early', electric: '' }
    expect(guess(fleetSheet(), [earlier]).values.engine).toEqual({
      electric: '',
      '2.2 diesel': 'plover-22',
      'plover 2.2': 'plover-22',
    })
  })

  test('a column more is guessed, and the sheet may have another name', () => {
    const { sheets } = fleetSheet()
    const more = sheets.map((sheet) => ({
      ...sheet,
      name: 'Fleet next week',
      rows: sheet.rows.map((row, i) => {
        const isHeading = row[0]?.text === 'Fleet No'
        return i < 3 ? row : [...row, { text: isHeading ? 'Labour hours' : '1.5' }]
      }),
    }))
    const found = meanings(guess({ sheets: more }, [said()]), 'Fleet next week')
    expect(found.depot).toBe('customer')
    expect(found['labour hours']).toBe('labourHours')
  })

  test('the likest counts, and one of other columns does not', () => {
    const other = guess(dealerStock())
    expect(guess(fleetSheet(), [other])).toEqual(guess(fleetSheet()))
    const mapping = guess(fleetSheet(), [other, said(), guess(fleetSheet())])
    expect(meanings(mapping, 'Fleet').depot).toBe('customer')
  })

  test('is not changed by what is guessed beside it', () => {
    const earlier = said()
    const before = structuredClone(earlier)
    const mapping = guess(fleetSheet(), [earlier])
    Object.assign(mapping.sheets.Fleet?.answers ?? {}, { before: 'none' })
    expect(earlier).toEqual(before)
  })
})

describe('a column that is said to be something else', () => {
  const workbook = oneSheet(
    ['Vehicle', 'Date', 'Type', 'Text'],
    ['V1', '2026-05-01', 'plover 2.2', 'repl inj'],
    ['V2', '2026-05-02', 'finch', 'vac pump gasket'],
  )
  const profile = profileWorkbook(workbook)
  const ground = groundOf(exampleLibrary())
  const withMeaning = (mapping: Mapping, key: string, meaning: Meaning): Mapping => {
    const changed = structuredClone(mapping)
    const column = changed.sheets.Any?.columns[key]
    if (column) column.meaning = meaning
    return changed
  }

  test('has its words guessed; what was said of others stays, untied ones too', () => {
    const before = guess(workbook)
    delete before.work['repl inj']
    const after = guessAnew(profile, before, withMeaning(before, 'type', 'engine'), ground)
    expect(after.values.engine).toEqual({ 'plover 2.2': 'plover-22' })
    expect(Object.keys(after.work)).toEqual(['vac pump gasket'])
    expect(guessAnew(profile, after, after, ground)).toEqual(after)
  })

  test('is read as what stands in it decides, where nobody has said how', () => {
    const written = oneSheet(
      ['Vehicle', 'Date', 'Run'],
      ['V1', '2026-05-01', '84.210 km'],
      ['V2', '2026-05-02', '91.004 km'],
    )
    const before = guess(written)
    const after = guessAnew(
      profileWorkbook(written),
      withMeaning(before, 'run', 'note'),
      withMeaning(before, 'run', 'odometer'),
      ground,
    )
    expect(after.sheets.Any?.columns.run).toMatchObject({ decimal: 'comma', distance: 'km' })
  })

  test('keeps what was said of the same words', () => {
    const before = { ...guess(workbook), values: { engine: { 'plover 2.2': 'heron' } } }
    const after = guessAnew(profile, before, withMeaning(before, 'type', 'engine'), ground)
    expect(after.values.engine).toEqual({ 'plover 2.2': 'heron' })
  })

  test('is told of: rows tell what columns newly say, and no more what none says', () => {
    const tells = (mapping: Mapping) => mapping.sheets.Any?.tells
    const written = oneSheet(['Vehicle', 'Date', 'Run'], ['V1', '2026-05-01', '84.210 km'])
    const looks = profileWorkbook(written)
    const before = guess(written)
    expect(tells(before)).toEqual(['readings'])
    const silent = guessAnew(looks, before, withMeaning(before, 'run', 'note'), ground)
    expect(tells(silent)).toEqual([])
    const spoken = guessAnew(looks, silent, withMeaning(silent, 'run', 'odometer'), ground)
    expect(tells(spoken)).toEqual(['readings'])
    const ticked = structuredClone(withMeaning(before, 'run', 'note'))
    ticked.sheets.Any!.tells = ['repairs']
    expect(tells(guessAnew(looks, before, ticked, ground))).toEqual(['repairs'])
  })
})
