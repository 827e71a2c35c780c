import { parse } from 'csv-parse/sync'
/** The stock as it is shown: its order in the address, what follows from a row, and its words. */
import { describe, expect, it } from 'vitest'
import { stockTold } from '@/app/(people)/stock/stock-told'
import {
  type StockLine,
  sortedBy,
  sortStock,
  stockAddress,
  stockLine,
  stockSort,
} from '@/app/(people)/stock/stock-view'
import { claimsWords, lotWords } from '@/app/(people)/stock/stock-words'
import { csvText } from '@/app/(people)/twins/twin'
import { formatsFor } from '@/app/ui/formats'
import { USUAL_GRADES } from '@/lib/decisions/grades'
import type { StockRow } from '@/lib/store/read/stock-rows'

const row = (unit: string, more: Partial<StockRow> = {}): StockRow => ({
  ...{ unit, plate: null, family: 'Plover 1.6', status: 'stock', standing: 'fine', asOf: 20_000 },
  ...{ acquiredOn: 19_960, soldOn: null, daysInStock: 40, askingPrice: 9_000, value: 8_000 },
  ...{ coverDays: 365, coverKm: 15_000, coverOf: 'usual', amount: 400, p50: 0, p95: 1_900, mean: 300 },
  ...{ meanOfUnknown: 75, stale: false, ...more },
})
const lines = [
  row('S-1'),
  row('S-2', { amount: 900, value: null, status: 'sold', soldOn: 19_990 }),
  row('S-3', { amount: null, p50: null, p95: null, mean: null, meanOfUnknown: null, askingPrice: null }),
].map((each) => stockLine(each, USUAL_GRADES))
const units = (all: StockLine[]) => all.map(({ unit }) => unit)
const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')

describe('the stock', () => {
  it('says of each what part of its value is set aside, in a word, and what of it nobody knows', () => {
    expect(lines[0]).toMatchObject({ shareOfValue: 0.05, grade: 'little', shareUnknown: 0.25 })
    expect(lines[1]).toMatchObject({ shareOfValue: null, grade: null })
    expect(lines[2]).toMatchObject({ shareOfValue: null, grade: null, shareUnknown: null })
    expect(stockLine(row('S-1'), null).grade).toBeNull()
    expect(stockLine(row('S-1', { value: 0 }), USUAL_GRADES).shareOfValue).toBeNull()
  })

  it('stands in the order of its address; what is not known comes last both ways', () => {
    expect(units(sortStock(lines, stockSort({})))).toEqual(['S-2', 'S-1', 'S-3'])
    expect(units(sortStock(lines, stockSort({ sort: 'amount' })))).toEqual(['S-1', 'S-2', 'S-3'])
    expect(units(sortStock(lines, stockSort({ sort: '-unit' })))).toEqual(['S-3', 'S-2', 'S-1'])
    expect(units(sortStock(lines, stockSort({ sort: '-price' })))).toEqual(['S-1', 'S-2', 'S-3'])
    expect(stockSort({ sort: 'nonsense' })).toEqual(stockSort({}))
    for (const sort of ['price', '-days', 'unit']) {
      expect(stockAddress(stockSort({ sort }))).toBe(`/stock?sort=${sort}`)
    }
    expect(stockAddress(stockSort({}))).toBe('/stock')
    expect(sortedBy('price', stockSort({}))).toEqual({ column: 'price', descending: true })
    expect(sortedBy('amount', stockSort({}))).toEqual({ column: 'amount', descending: false })
  })

  it('is told whole, against what is enough for each by itself, and against what was paid', () => {
    const total = { mean: 1_200, p50: 900, amount: 1_900, p95: 4_000, classes: [] }
    const lot = { vehicles: 2, total, share: 0.8, claims: null }
    const [all, apart] = lotWords(lot, 2_600, formats)
    expect(all).toMatch(/^For all 2 vehicles together, €1,900 is enough in 8 of 10 cases/)
    expect(apart).toMatch(/sums to €2,600\. Together less is needed/)
    expect(lotWords(lot, 300, formats)[1]).toMatch(/sums to €300\. Together more is needed/)
    expect(lotWords({ ...lot, vehicles: 1 }, 1_900, formats)).toHaveLength(1)
    const claims = {
      ...{ vehicles: 3, expected: 500, low: 0, high: 1_400, claims: 2, paid: 2_000, unpriced: 1 },
      ...{ chanceOfNoMore: 0.95, standing: 'more' as const },
    }
    const [told, unpriced] = claimsWords(claims, formats)
    expect(told).toMatch(
      /€500 was to be expected \(8 times in 10 between €0 and €1,400\)\. 2 repairs .* €2,000\. That is more/,
    )
    expect(unpriced).toMatch(/^1 of the repairs/)
  })

  it('is a file with as many cells in a row as headings', () => {
    const csv = csvText(stockTold([lines[0]!], { share: 0.8, asOf: 20_000, currency: 'EUR' }))
    const [known = {}] = parse(csv, { columns: true }) as Record<string, string>[]
    expect(known).toMatchObject({
      Vehicle: 'S-1',
      'Days in stock': '40',
      'Set aside, enough in 8 of 10 (EUR)': '400',
    })
    expect(known['Bought on']).toBe('2024-08-25')
  })
})
