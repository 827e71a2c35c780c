/** Parts in stock as workbooks of others have them. */
import { describe, expect, test } from 'vitest'
import { guessAnew, guessMapping } from '@/lib/intake/workbook/guess'
import { openQuestions } from '@/lib/intake/workbook/questions'
import { exampleLibrary } from '../../records/example-library'
import { bringIn, groundOf } from './bring-in'
import {
  dayCell,
  dealerStock,
  fleetSheet,
  scannerText,
  sheetOf,
  shopInvoices,
  trackerExport,
  type Written,
} from './messy-workbooks'

const bring = (rows: Written[][], ...more: Written[][][]) =>
  bringIn({ sheets: [rows, ...more].map((each, i) => sheetOf(`Sheet ${i + 1}`, each)) })

const found = ({ mapping }: ReturnType<typeof bring>, sheet = 'Sheet 1') =>
  Object.values(mapping.sheets[sheet]!.columns).map(({ meaning }) => meaning)

describe('a list of parts in stock', () => {
  test('with titles, a total and free text comes in, row for row', () => {
    const brought = bring([
      ['Parts store, June'],
      [],
      ['Part no', 'Description', 'Qty', 'On order', 'ETA', 'Lead time (days)', 'Unit price', 'Vendor', 'Bin'],
      ['INJ-22', 'Injector', 4, 2, dayCell('2026-07-14'), 6, 180, 'Reed', 'A3'],
      ['GSK-7', 'Gasket', '0', null, null, '21', '12,50', null, null],
      [null, 'Total', 4, 2],
    ])
    expect(brought.mapping.sheets['Sheet 1']!.tells).toEqual(['parts'])
    expect(found(brought)).toEqual([
      ...['part', 'note', 'onHand', 'onOrder', 'dueOn', 'leadDays', 'partPrice', 'supplier', 'note'],
    ])
    expect(brought.rejected).toEqual([])
    const [read] = brought.read.parts
    expect(read!.parts).toEqual([
      {
        ...{
          part: 'INJ-22',
          onHand: 4,
          onOrder: 2,
          dueOn: 20_648,
          leadDays: 6,
          price: 180,
          supplier: 'Reed',
        },
        notes: { Description: 'Injector', Bin: 'A3' },
      },
      {
        ...{
          part: 'GSK-7',
          onHand: 0,
          onOrder: null,
          dueOn: null,
          leadDays: 21,
          price: 12.5,
          supplier: null,
        },
        notes: { Description: 'Gasket' },
      },
    ])
    // Line N is row N.
    expect(brought.lines('parts')[3]).toContain('INJ-22')
    expect(brought.told).toMatchObject([{ given: 2, leftOut: { totals: 1, nothing: 0 } }])
  })

  test.each<[string, Written[]]>([
    ['our own columns', ['part', 'on_hand', 'on_order', 'due_on', 'lead_days', 'price', 'supplier']],
    ['German', ['Teilenummer', 'Bestand', 'bestellt', 'Liefertermin', 'Lieferzeit', 'Preis', 'Lieferant']],
    ['French', ['Piece no', 'Quantité', 'Commandé', 'Livraison', 'Délai', 'Prix', 'Fournisseur']],
    ['Spanish', ['Referencia', 'Existencias', 'Pedidos', 'Llegada', 'Plazo', 'Precio', 'Proveedor']],
  ])('is known by %s', (_, header) => {
    const brought = bring([header, ['INJ-22', 4, 2, dayCell('2026-07-14'), 6, 180, 'Reed']])
    expect(found(brought)).toEqual([
      'part',
      'onHand',
      'onOrder',
      'dueOn',
      'leadDays',
      'partPrice',
      'supplier',
    ])
    expect(brought.read.parts.flatMap(({ parts }) => parts)).toMatchObject([
      { part: 'INJ-22', onHand: 4, onOrder: 2, dueOn: 20_648, leadDays: 6, price: 180, supplier: 'Reed' },
    ])
  })

  test('is known by the library’s parts where the header says nothing of them', () => {
    const brought = bring([
      ['Wagon', 'Stock'],
      ['inj-22', 3],
    ])
    expect(found(brought)).toEqual(['part', 'onHand'])
  })

  test('a row whose cell cannot be read, or that names no part, is refused with its line and reason', () => {
    const brought = bring([
      ['Part', 'Qty', 'On order'],
      ['INJ-22', 'some', 1],
      [null, 3, null],
      ['X', 1, 0],
      ['Y', 2, 1],
    ])
    expect(brought.rejected).toEqual([
      expect.stringMatching(/^parts:2 on_hand: /),
      expect.stringMatching(/^parts:3 part: /),
    ])
    expect(brought.read.parts[0]!.parts.map(({ part }) => part)).toEqual(['X', 'Y'])
  })

  test('asks for no vehicle, day or history; but for the part where no column names it', () => {
    const brought = bring([
      ['Part', 'Qty'],
      ['INJ-22', 4],
    ])
    const ask = (mapping = brought.mapping) =>
      openQuestions(brought.profile, mapping, groundOf(exampleLibrary())).map(({ words }) => words)
    expect(ask()).toEqual([])
    const said = structuredClone(brought.mapping)
    Object.values(said.sheets['Sheet 1']!.columns)[0]!.meaning = 'note'
    expect(ask(said)).toEqual(['Which column says which part a row is about?'])
  })

  test('comes beside a sheet of vehicles, each as what it is', () => {
    const brought = bring(
      [
        ['Part', 'Qty'],
        ['INJ-22', 4],
      ],
      [
        ['Vehicle', 'Engine', 'Date', 'Odo'],
        ['V1', 'Plover 2.2', '2026-06-01', 1000],
      ],
    )
    expect(brought.files.map(({ kind }) => kind)).toEqual(['parts', 'vehicles', 'readings'])
  })

  test('is what people say it is, where nothing seems to be', () => {
    const rows: Written[][] = [
      ['Thing', 'Left'],
      ['wiper', 3],
    ]
    const brought = bring(rows)
    expect(brought.mapping.sheets['Sheet 1']!.tells).toEqual([])
    const said = structuredClone(brought.mapping)
    const [thing, left] = Object.values(said.sheets['Sheet 1']!.columns)
    Object.assign(thing!, { meaning: 'part' })
    Object.assign(left!, { meaning: 'onHand' })
    const again = guessAnew(brought.profile, brought.mapping, said, groundOf(exampleLibrary()))
    expect(again.sheets['Sheet 1']!.tells).toEqual(['parts'])
  })
})

describe('what is no list of parts in stock', () => {
  test.each<[string, Written[][]]>([
    [
      'a price list',
      [
        ['Part', 'Price'],
        ['INJ-22', 180],
      ],
    ],
    [
      'the lines of invoices',
      [
        ['Invoice', 'Date', 'Item', 'Qty', 'Price'],
        ['7', '2026-06-01', 'INJ-22', 2, 180],
      ],
    ],
    [
      'parts put into vehicles',
      [
        ['Vehicle', 'Date', 'Part', 'Qty'],
        ['V1', '2026-06-01', 'INJ-22', 2],
      ],
    ],
  ])('%s tells of no parts', (_, rows) => {
    expect(bring(rows).mapping.sheets['Sheet 1']!.tells).not.toContain('parts')
  })

  test('nor are workbooks of vehicles', () => {
    for (const workbook of [fleetSheet(), shopInvoices(), dealerStock(), trackerExport(), scannerText()]) {
      const { profile } = bringIn(workbook)
      const mapping = guessMapping(profile, groundOf(exampleLibrary()))
      for (const { tells } of Object.values(mapping.sheets)) expect(tells).not.toContain('parts')
    }
  })
})
