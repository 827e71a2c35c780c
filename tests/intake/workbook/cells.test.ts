import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { echoColumn } from '@/lib/intake/workbook/echo'
import type { ColumnMapping, DateOrder, Meaning } from '@/lib/intake/workbook/mapping'
import { positionsIn, splitPhrases } from '@/lib/intake/workbook/phrases'
import { readCell, readCodes } from '@/lib/intake/workbook/read-cells'
import type { SheetCell } from '@/lib/intake/workbook/sheets'
import { formatDay, parseDay } from '@/lib/units/dates'
import { KM_PER_MILE } from '@/lib/units/distances'
import { TODAY } from '../folder'
import { dayCell } from './messy-workbooks'

const column = (meaning: Meaning, more: Partial<ColumnMapping> = {}): ColumnMapping => ({
  meaning,
  order: null,
  decimal: null,
  distance: 'km',
  ...more,
})
const read = (cell: string | SheetCell, said: ColumnMapping) =>
  readCell(typeof cell === 'string' ? { text: cell } : cell, said, { values: {}, today: TODAY })

describe('dates', () => {
  test.each<[string, DateOrder | null, string]>([
    ['2025-04-03', null, '2025-04-03'],
    ['2025/4/3', 'day-first', '2025-04-03'],
    ['20250403', null, '2025-04-03'],
    ['2025-04-03T23:59:00Z', null, '2025-04-03'],
    ['3/4/2025', 'day-first', '2025-04-03'],
    ['3/4/2025', 'month-first', '2025-03-04'],
    ['03.04.25', 'day-first', '2025-04-03'],
    ['25-04-03', 'iso', '2025-04-03'],
    ['31.12.98', 'day-first', '1998-12-31'],
    ['30-06-27', 'day-first', '2027-06-30'],
    ['02-07-27', 'day-first', '1927-07-02'],
    ['13/4/2025 14:05', 'day-first', '2025-04-13'],
    ['13/4/2025', null, '2025-04-13'],
    ['4/13/2025', null, '2025-04-13'],
    ['5/5/2025', null, '2025-05-05'],
    ['12 Mar 2024', null, '2024-03-12'],
    ['Mar 12, 2024', null, '2024-03-12'],
    ['Tuesday, March 12th, 2024', null, '2024-03-12'],
    ['mar. 12 mars 2024', null, '2024-03-12'],
    ['1er juin 2022', null, '2022-06-01'],
    ['12. März 2024', null, '2024-03-12'],
    ['15 août 2023', null, '2023-08-15'],
    ['12 de diciembre de 2023', null, '2023-12-12'],
  ])('%s, %s: %s', (text, order, iso) =>
    expect(read(text, column('date', { order }))).toEqual({ text: iso, isRead: true, precision: 'day' }),
  )

  test.each(['3/4/2025', '30.02.2025', '13.13.2025', 'last week', '84.210', '25.03.24'])(
    '%s stays as it is where nobody has said what stands first',
    (text) => expect(read(text, column('date'))).toEqual({ text, isRead: false, precision: null }),
  )

  test.each<[string, string, 'month' | 'year']>([
    ['03/2024', '2024-03-15', 'month'],
    ['3/24', '2024-03-15', 'month'],
    ['Mar 2024', '2024-03-15', 'month'],
    ["März '24", '2024-03-15', 'month'],
    ['2024-03', '2024-03-15', 'month'],
    ['2019', '2019-07-01', 'year'],
    ['2026', formatDay(TODAY), 'year'],
  ])('%s is known to the month or the year alone', (text, iso, precision) =>
    expect(read(text, column('builtOn', { order: 'day-first' }))).toEqual({
      text: iso,
      isRead: true,
      precision,
    }),
  )

  test('a month that is not over has passed only up to today', () => {
    const today = parseDay('2026-06-03') ?? 0
    const found = readCell({ text: 'June 2026' }, column('date'), { values: {}, today })
    expect(found.text).toBe('2026-06-03')
  })

  test('a cover ends years ahead', () =>
    expect(read('01.02.31', column('coverUntilOn', { order: 'day-first' })).text).toBe('2031-02-01'))

  test('dates of the workbook need no order, and a month that it shows alone stays one', () => {
    expect(read(dayCell('2025-03-04'), column('date', { order: 'month-first' })).text).toBe('2025-03-04')
    const month = { text: 'Mar-24', number: 45_352, iso: '2024-03-01' }
    expect(read(month, column('date'))).toEqual({ text: '2024-03-15', isRead: true, precision: 'month' })
    expect(read(dayCell('2024-03-01'), column('date')).precision).toBe('day')
    expect(read({ text: '45720', number: 45_720.58 }, column('date')).text).toBe('2025-03-04')
  })

  const MONTHS = {
    en: 'January February March April May June July August September October November December',
    de: 'Januar Februar März April Mai Juni Juli August September Oktober November Dezember',
    fr: 'janvier février mars avril mai juin juillet août septembre octobre novembre décembre',
  }
  const anyDay = fc.integer({ min: TODAY - 20_000, max: TODAY })
  test('a day that somebody writes in any of these styles is read as that day', () => {
    const style = fc.record({
      mark: fc.constantFrom('.', '/', '-', ' '),
      isPadded: fc.boolean(),
      isShort: fc.boolean(),
      form: fc.constantFrom('iso', 'day-first', 'month-first', 'en', 'de', 'fr'),
      time: fc.constantFrom('', ' 08:30', ' 23:59:01', 'T04:05:06Z'),
    })
    fc.assert(
      fc.property(anyDay, style, (day, { mark, isPadded, isShort, form, time }) => {
        const [year = '', month = '', date = ''] = formatDay(day).split('-')
        const bare = (text: string) => (isPadded ? text : String(Number(text)))
        const inCentury = day > TODAY - 36_000
        const short = isShort && inCentury ? year.slice(2) : year
        const name = form in MONTHS ? MONTHS[form as 'en'].split(' ')[Number(month) - 1] : ''
        const written: Record<string, string> = {
          iso: [year, bare(month), bare(date)].join(mark),
          'day-first': [bare(date), bare(month), short].join(mark),
          'month-first': [bare(month), bare(date), short].join(mark),
        }
        const text =
          (written[form] ?? `${bare(date)} ${name} ${year}`) + (time.startsWith('T') ? ' 04:05' : time)
        const order = form in written ? (form as DateOrder) : null
        expect(read(text, column('date', { order })).text).toBe(formatDay(day))
      }),
    )
  })
})

describe('numbers and distances', () => {
  test.each<[string, ColumnMapping['decimal'], string]>([
    ['84.210', 'comma', '84210'],
    ['84.210', 'point', '84.21'],
    ['84.210', null, '84210'],
    ['84,210', 'point', '84210'],
    ['84,210.5', 'point', '84210.5'],
    ['84.210,5', 'comma', '84210.5'],
    ['1.234.567', 'point', '1234567'],
    ['84 210', 'point', '84210'],
    ['84\u202f210,5', 'comma', '84210.5'],
    ['84’210.50', 'point', '84210.5'],
    ['€ 1.234,50', 'comma', '1234.5'],
    ['1,234.50 USD', 'point', '1234.5'],
    ['1.080,-', 'comma', '1080'],
    ['3,5 h', 'comma', '3.5'],
    [',5', 'comma', '0.5'],
    ['0.210', null, '0.21'],
    ['-12', 'point', '-12'],
    ['1e+05', 'point', '100000'],
  ])('%s with a %s: %s', (text, decimal, number) =>
    expect(read(text, column('value', { decimal }))).toEqual({ text: number, isRead: true, precision: null }),
  )

  test.each<[string, ColumnMapping['decimal']]>([
    ['1,5', 'point'],
    ['1.5', 'comma'],
    ['1.23.456', 'point'],
    ['12,34,567', 'point'],
    ['about 80', null],
    ['', 'point'],
    ['12 34', 'point'],
  ])('%s with a %s is no number', (text, decimal) =>
    expect(read(text, column('value', { decimal })).isRead).toBe(false),
  )

  test.each<[string, 'km' | 'mi', number]>([
    ['184k', 'km', 184_000],
    ['184,5k', 'km', 184_500],
    ['184 tkm', 'km', 184_000],
    ['184 Tsd. km', 'km', 184_000],
    ['184.000 km', 'km', 184_000],
    ['KM: 84.210', 'km', 84_210],
    ['52,300 miles', 'mi', 52_300],
    ['88k', 'mi', 88_000],
    ['52,300 mi', 'km', 52_300 * KM_PER_MILE],
    ['84 210 km', 'mi', 84_210 / KM_PER_MILE],
  ])('%s in a column of %s', (text, distance, size) =>
    expect(Number(read(text, column('odometer', { distance })).text)).toBeCloseTo(size, 6),
  )

  test('the workbook’s own numbers are taken without the dust of its arithmetic', () =>
    expect(read({ text: '0.30', number: 0.1 + 0.2 }, column('value')).text).toBe('0.3'))

  test('a number that somebody writes in any of these styles is read as that number', () => {
    const style = fc.record({
      decimal: fc.constantFrom('point' as const, 'comma' as const),
      group: fc.constantFrom('', 'other', ' ', "'", '\u00a0', '\u202f'),
      before: fc.constantFrom('', '€ ', '$', 'CHF '),
      after: fc.constantFrom('', ' €', ' EUR'),
    })
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 99_999_999 }),
        fc.integer({ min: 0, max: 2 }),
        style,
        (figures, places, said) => {
          const { decimal, group, before, after } = said
          const number = figures / 10 ** places
          const [whole = '', rest] = number.toFixed(places).split('.')
          const mark = group === 'other' ? (decimal === 'point' ? ',' : '.') : group
          const grouped = whole.replace(/\B(?=(\d{3})+$)/g, mark)
          const text = `${before}${grouped}${rest === undefined ? '' : `${decimal === 'point' ? '.' : ','}${rest}`}${after}`
          expect(Number(read(text, column('partsCost', { decimal })).text)).toBe(number)
        },
      ),
    )
  })
})

test.each(['-', '–', '?', 'n/a', 'N.A.', 'k.A.', 'unknown', '#N/A'])(
  '%s in a column of figures or days is blank',
  (text) => {
    const blank = { text: '', isRead: true, precision: null }
    for (const meaning of ['value', 'odometer', 'date'] as const)
      expect(read(text, column(meaning))).toEqual(blank)
    expect(read(text, column('revision')).text).toBe(text)
  },
)

describe('codes', () => {
  test.each<[string, ReturnType<typeof readCodes>]>([
    ['P0302, P0301', { codes: ['P0302', 'P0301'] }],
    ['p0302-00', { codes: ['P0302'] }],
    ['SPN 94 FMI 18', { codes: ['94:18'] }],
    ['P0302\nP0401 low flow', { codes: ['P0302', 'P0401'] }],
    ['P0302, P03', { codes: ['P0302', 'P03'] }],
    ['see the notes', { codes: ['see the notes'] }],
    ['no codes', 'nothing-seen'],
    ['None', 'nothing-seen'],
    ['OK', 'nothing-seen'],
    ['-', 'nothing-seen'],
    ['keine Fehler', 'nothing-seen'],
  ])('%s', (text, codes) => expect(readCodes(text)).toEqual(codes))

  test('what a word stands for is what was said of it', () => {
    expect(readCodes('-', { '-': '' })).toBe('nothing-said')
    expect(readCodes('alles gut', { 'alles gut': 'none' })).toBe('nothing-seen')
    expect(readCodes('constructor')).toEqual({ codes: ['constructor'] })
  })
})

describe('words', () => {
  test('stand for what was said of them, in whatever letters', () => {
    const ground = { values: { status: { 'for sale': 'stock' } }, today: TODAY }
    expect(readCell({ text: ' For  Sale' }, column('status'), ground).text).toBe('stock')
    expect(readCell({ text: 'lost' }, column('status'), ground).text).toBe('lost')
    expect(readCell({ text: 'constructor' }, column('status'), ground).text).toBe('constructor')
  })

  test('a text of several lines is one of one line', () =>
    expect(read('one\r\ntwo\u2028three', column('site')).text).toBe('one two three'))
})

test('texts without end are no dates and no numbers, and the search in them ends', () => {
  for (const text of ['t', '.', '1 ', '1,', 'a ', 'and 1 '].map((part) => part.repeat(30_000))) {
    for (const meaning of ['date', 'value', 'odometer'] as const)
      expect(read(text, column(meaning, { order: 'day-first' })).isRead).toBe(false)
    expect(readCodes(text)).toEqual({ codes: [text.trim()] })
    for (const phrase of splitPhrases(text)) expect(positionsIn(phrase).every((n) => n === 1)).toBe(true)
  }
})

test('the first cells of a column are said back as they are read', () => {
  const samples = ['84.210', '184k', 'soon'].map((text) => ({ text }))
  expect(echoColumn({ samples }, column('odometer', { decimal: 'comma' }), TODAY)).toEqual([
    { written: '84.210', read: '84210 km', isRead: true },
    { written: '184k', read: '184000 km', isRead: true },
    { written: 'soon', read: 'soon', isRead: false },
  ])
  const codes = ['P0302-00, P0301', 'none'].map((text) => ({ text }))
  expect(echoColumn({ samples: codes }, column('codes'), TODAY).map(({ read }) => read)).toEqual([
    'P0302 · P0301',
    'a scan that saw nothing',
  ])
  expect(echoColumn({ samples: [{ text: '03/2024' }] }, column('date'), TODAY)[0]?.read).toBe(
    '2024-03-15, the month alone is known',
  )
})
