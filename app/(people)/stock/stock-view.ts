import { type Grade, gradeOf } from '@/lib/decisions/grades'
import type { StockRow } from '@/lib/store/read/stock-rows'

/** The columns of the stock, in their order. */
export const STOCK_COLUMNS = [
  'unit',
  'status',
  'days',
  'price',
  'value',
  'amount',
  'share',
  'unknown',
] as const
export type StockColumn = (typeof STOCK_COLUMNS)[number]

export type StockSort = { column: StockColumn; descending: boolean }

/** The dearest first: what most is set aside for. */
export const BARE_SORT: StockSort = { column: 'amount', descending: true }

/** A vehicle of the stock with what follows from its row. */
export type StockLine = StockRow & {
  /** Of its value, what is set aside; null where either is not known. */
  shareOfValue: number | null
  /** The organisation's own word for that; null where it has none. */
  grade: string | null
  /** Of the average, what is due to parts of unknown age; null where nothing is to be expected. */
  shareUnknown: number | null
}

/** @param grades null where the organisation has no words of its own */
export function stockLine(row: StockRow, grades: readonly Grade[] | null): StockLine {
  const { amount, value, mean, meanOfUnknown } = row
  const hasBoth = amount !== null && value !== null && value > 0
  return {
    ...row,
    shareOfValue: hasBoth ? amount / value : null,
    grade: hasBoth && grades ? gradeOf(amount, value, grades) : null,
    shareUnknown: mean !== null && mean > 0 && meanOfUnknown !== null ? meanOfUnknown / mean : null,
  }
}

type SearchParameters = Record<string, string | string[] | undefined>

/** The order that an address asks for: `sort=price`, or `sort=-price` from the top. What nobody knows is the usual. */
export function stockSort(parameters: SearchParameters): StockSort {
  const asked = [parameters.sort ?? ''].flat()[0] ?? ''
  const column = STOCK_COLUMNS.find((each) => each === asked.replace(/^-/, ''))
  return column ? { column, descending: asked.startsWith('-') } : BARE_SORT
}

/** The address of the page, or of its file, in an order. */
export function stockAddress({ column, descending }: StockSort, page = '/stock'): string {
  const isBare = column === BARE_SORT.column && descending === BARE_SORT.descending
  return isBare ? page : `${page}?sort=${descending ? '-' : ''}${column}`
}

/** Columns that tell most from the top. */
const TOP_FIRST: ReadonlySet<StockColumn> = new Set(['days', 'price', 'value', 'amount', 'share', 'unknown'])

/** What a press on a heading leads to: the way that tells most, then the other. */
export const sortedBy = (column: StockColumn, now: StockSort): StockSort => ({
  column,
  descending: now.column === column ? !now.descending : TOP_FIRST.has(column),
})

const KEYS: Record<StockColumn, (line: StockLine) => number | string | null> = {
  unit: () => null,
  status: ({ status, soldOn }) => `${status === 'stock' ? 0 : 1} ${soldOn ?? ''}`,
  days: ({ daysInStock }) => daysInStock,
  price: ({ askingPrice }) => askingPrice,
  value: ({ value }) => value,
  amount: ({ amount }) => amount,
  share: ({ shareOfValue }) => shareOfValue,
  unknown: ({ shareUnknown }) => shareUnknown,
}

/** Sorted; what is not known comes last both ways, and what is equal stays in the order of the numbers. */
export function sortStock(lines: readonly StockLine[], { column, descending }: StockSort): StockLine[] {
  if (column === 'unit') return descending ? lines.toReversed() : [...lines]
  const way = descending ? -1 : 1
  const keyed = lines.map((line) => ({ line, key: KEYS[column](line) }))
  const known = keyed.filter(({ key }) => key !== null)
  const unknown = keyed.filter(({ key }) => key === null)
  known.sort((a, b) => way * compare(a.key!, b.key!))
  return [...known, ...unknown].map(({ line }) => line)
}

const compare = (a: number | string, b: number | string) => (a < b ? -1 : a > b ? 1 : 0)
