import { parseDay } from '@/lib/units/dates'

/** One change that mends many cells at once. */
export type Mend =
  | { how: 'replace'; from: string; to: string }
  | { how: 'date'; order: 'day-month-year' | 'month-day-year' | 'year-month-day' }
  | { how: 'number'; decimal: ',' | '.' }
  | { how: 'encoding'; encoding: 'windows-1252' }

/** A cell as the change leaves it; as it was where the change does not concern it. */
export function mendCell(cell: string, mend: Mend): string {
  if (mend.how === 'replace') return replaceName(cell, mend)
  if (mend.how === 'date') return isoDate(cell, mend.order) ?? cell
  if (mend.how === 'number') return plainNumber(cell, mend.decimal) ?? cell
  return cell
}

/** A name may stand alone or in a list, with a position behind it: `misfire@3 leak`. */
function replaceName(cell: string, { from, to }: { from: string; to: string }): string {
  if (cell === from) return to
  const names = cell.split(/\s+/).map((part) => {
    const [name, ...position] = part.split('@')
    return name === from ? [to, ...position].join('@') : part
  })
  return names.join(' ')
}

const DATE = /^(\d{1,4})[./\- ](\d{1,2})[./\- ](\d{1,4})(?:[ T]\d{1,2}:\d{2}.*)?$/
const PLACES = {
  'day-month-year': [3, 2, 1],
  'month-day-year': [3, 1, 2],
  'year-month-day': [1, 2, 3],
} as const

function isoDate(cell: string, order: keyof typeof PLACES): string | null {
  const match = DATE.exec(cell)
  if (!match) return null
  const [year = '', month = '', day = ''] = PLACES[order].map((place) => match[place] ?? '')
  const written = `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`
  return parseDay(written) === null ? null : written
}

const GROUPED = {
  ',': /^-?\d{1,3}(?:[. '’]\d{3})*(?:,\d+)?$|^-?\d+(?:,\d+)?$/,
  '.': /^-?\d{1,3}(?:[, '’]\d{3})*(?:\.\d+)?$/,
}

function plainNumber(cell: string, decimal: ',' | '.'): string | null {
  const text = cell.replace(/[   ]/g, ' ').replace(/\s*(?:km|mi|h|€|\$|£)$/i, '')
  if (!GROUPED[decimal].test(text)) return null
  const [whole = '', part] = text.split(decimal)
  const digits = whole.replace(/[., '’]/g, '')
  return part === undefined ? digits : `${digits}.${part}`
}

/**
 * The change that all of these dates agree on: an order of day, month and year in which each is a date, where no other
 * order is as good. Null where they do not say.
 */
export function dateMend(cells: readonly string[]): Mend | null {
  const orders = Object.keys(PLACES) as (keyof typeof PLACES)[]
  const fitting = orders.filter((order) => cells.every((cell) => isoDate(cell, order) !== null))
  const [order, other] = fitting
  return order === undefined || other !== undefined ? null : { how: 'date', order }
}

/** The mark of decimals that all of these numbers agree on; null where they do not say. */
export function numberMend(cells: readonly string[]): Mend | null {
  const fitting = ([',', '.'] as const).filter((decimal) =>
    cells.every((cell) => plainNumber(cell, decimal) !== null),
  )
  const [decimal] = fitting
  if (decimal === undefined) return null
  const agree = cells.every((cell) => new Set(fitting.map((each) => plainNumber(cell, each))).size === 1)
  return fitting.length === 1 || agree ? { how: 'number', decimal } : null
}
