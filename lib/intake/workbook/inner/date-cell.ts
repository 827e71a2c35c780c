/** Dates as people write them in a table, by the order that was decided for the column. */
import { type Day, formatDay, parseDay } from '@/lib/units/dates'
import type { DateOrder } from '../mapping'
import type { SheetCell } from '../sheets'
import { monthNamed } from './month-names'

/** A day as ISO 8601 writes it, and how much of it was written. */
export interface DateRead {
  iso: string
  precision: 'day' | 'month' | 'year'
}

export interface DateColumn {
  order: DateOrder | null
  today: Day
  /** Its days may lie ahead. */
  ahead?: boolean
}

/**
 * Reads a date: the workbook's own, ISO 8601, figures by the column's order, or with the month's name; a time of day is
 * left out. A month stands for its 15th, a year for its 1st of July, no later than today.
 *
 * @returns null where it is none, or could be either of two
 */
export function readDate(cell: SheetCell, column: DateColumn): DateRead | null {
  const found = cell.iso === undefined ? foundIn(cell, column) : ownDate(cell.iso, cell.text)
  if (found === null || found.month === null || found.day === null) return found && inTheMiddle(found, column)
  return exact(found.year, found.month, found.day)
}

type Found = { year: number; month: number | null; day: number | null }

/** A workbook that is told a month keeps its first day and shows the month alone. */
function ownDate(iso: string, shown: string): Found | null {
  const [year = 0, month = 0, day = 0] = iso.split('-').map(Number)
  const monthAlone = day === 1 && (/^\d{1,2}[./-]\d{2}$/.test(shown) || monthOnly(plainOf(shown), 9999))
  return { year, month, day: monthAlone ? null : day }
}

function foundIn({ text, number }: SheetCell, column: DateColumn): Found | null {
  if (number !== undefined && number >= FIRST_SERIAL && number <= lastSerial(column)) return ofSerial(number)
  if (text.length > LONGEST_DATE) return null
  const plain = plainOf(text)
  // `mar 12` is a Tuesday in French and a month in English: the weekday goes where the date cannot be read with it.
  return foundInText(plain, column) ?? foundInText(plain.replace(WEEKDAY, ''), column)
}

function foundInText(plain: string, column: DateColumn): Found | null {
  const { last } = withLast(column)
  return (
    yearFirst(plain) ??
    inFigures(plain, column.order, last) ??
    withName(plain, last) ??
    monthOnly(plain, last) ??
    yearOnly(plain)
  )
}

/** Nobody writes a longer one; a text without end is not searched for one. */
const LONGEST_DATE = 60

/** Days since the end of 1899, as workbooks count; from 1950 on, so that a year is not taken for one. */
const FIRST_SERIAL = 18_264
const SERIAL_OF_1970 = 25_569
const lastSerial = (column: DateColumn) => withLast(column).last + SERIAL_OF_1970

function ofSerial(serial: number): Found {
  const [year = 0, month = 0, day = 0] = formatDay(Math.floor(serial) - SERIAL_OF_1970)
    .split('-')
    .map(Number)
  return { year, month, day }
}

const DAYS_AHEAD = 366
const DAYS_FAR_AHEAD = 30 * 366
/** The last day that a year of two figures can mean. */
const withLast = ({ today, ahead }: DateColumn) => ({ last: today + (ahead ? DAYS_FAR_AHEAD : DAYS_AHEAD) })

const WEEKDAY =
  /^(?:mon|tue|wed|thu|fri|sat|sun|mo|di|mi|do|fr|sa|so|lun|mar|mer|jeu|ven|sam|dim)[a-zéû]*[.,]*[ ]+(?=[\p{L}\d])/u
const TIME = /[ t]+\d{1,2}[:h]\d{2}(?::\d{2}(?:[.,]\d+)?)?(?: ?(?:am|pm|uhr))?(?: ?(?:z|[+-]\d{2}:?\d{2}))?$/

/** Without a time of day, ordinals and the small words between. */
const plainOf = (text: string): string =>
  text
    .toLowerCase()
    .replace(/\s+/g, ' ')
    .trim()
    .replace(TIME, '')
    .replace(/(\d)(?:st|nd|rd|th|er|º)\b/g, '$1')
    .replace(/ (?:de|del|of) /g, ' ')
    .replaceAll(',', ' ')
    .replace(/ +/g, ' ')

function yearFirst(text: string): Found | null {
  const match =
    /^(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})$/.exec(text) ?? /^((?:19|20)\d\d)(\d\d)(\d\d)$/.exec(text)
  return match && { year: Number(match[1]), month: Number(match[2]), day: Number(match[3]) }
}

const IN_FIGURES = /^(\d{1,2})[-/. ](\d{1,2})[-/. ](\d{4}|\d{2})$/

function inFigures(text: string, order: DateOrder | null, last: Day): Found | null {
  const [, one, two, three = ''] = IN_FIGURES.exec(text) ?? []
  if (one === undefined || two === undefined) return null
  const [first, second, short] = [Number(one), Number(two), three.length === 2]
  if (order === 'iso' && short) return dated(one, second, Number(three), last)
  if (order === 'day-first') return dated(three, second, first, last)
  if (order === 'month-first') return dated(three, first, second, last)
  // Nobody has said: only what can be read in one way.
  if (short || (first <= 12 && second <= 12 && first !== second)) return null
  return first > 12 ? dated(three, second, first, last) : dated(three, first, second, last)
}

/** A year of two figures is the latest that is not beyond the last day. */
function dated(written: string, month: number, day: number, last: Day): Found {
  const year = Number(written)
  if (written.length > 2) return { year, month, day }
  const far = Date.UTC(2000 + year, month - 1, day) / 86_400_000 > last
  return { year: (far ? 1900 : 2000) + year, month, day }
}

const NAMED = [
  { form: /^(\d{1,2})[-/. ]*([^\d\W_]+|\p{L}+)[-/. ']*(\d{4}|\d{2})$/u, day: 1, name: 2, year: 3 },
  { form: /^(\p{L}+)[-/. ]*(\d{1,2})[-/. ]+(\d{4}|\d{2})$/u, day: 2, name: 1, year: 3 },
  { form: /^(\d{4})[-/. ]*(\p{L}+)[-/. ]*(\d{1,2})$/u, day: 3, name: 2, year: 1 },
]

function withName(text: string, last: Day): Found | null {
  for (const { form, day, name, year } of NAMED) {
    const match = form.exec(text)
    const month = match && monthNamed(match[name] ?? '')
    if (match && month) return dated(match[year] ?? '', month, Number(match[day]), last)
  }
  return null
}

function monthOnly(text: string, last: Day): Found | null {
  const named = /^(\p{L}+)[-/. ']*(\d{4}|\d{2})$/u.exec(text)
  const month = named && monthNamed(named[1] ?? '')
  if (named && month) return { ...dated(named[2] ?? '', month, 1, last), day: null }
  const back = /^(\d{4})[-/. ]*(\p{L}+)$/u.exec(text)
  const backMonth = back && monthNamed(back[2] ?? '')
  if (back && backMonth) return { year: Number(back[1]), month: backMonth, day: null }
  const [, first, year] = /^(\d{1,2})[-/. ](\d{4})$/.exec(text) ?? []
  if (first !== undefined) return { year: Number(year), month: Number(first), day: null }
  const [, before, second] = /^(\d{4})[-/. ](\d{1,2})$/.exec(text) ?? []
  if (before !== undefined) return { year: Number(before), month: Number(second), day: null }
  const [, alone, short = ''] = /^(\d{1,2})[-/](\d{2})$/.exec(text) ?? []
  return alone !== undefined && Number(short) > 12
    ? { ...dated(short, Number(alone), 1, last), day: null }
    : null
}

const yearOnly = (text: string): Found | null =>
  /^(?:19|20)\d\d$/.test(text) ? { year: Number(text), month: null, day: null } : null

function exact(year: number, month: number, day: number): DateRead | null {
  const iso = `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`
  return parseDay(iso) === null ? null : { iso, precision: 'day' }
}

const two = (n: number) => String(n).padStart(2, '0')
const MIDDLE_OF_MONTH = 15
const MIDDLE_OF_YEAR = { month: 7, day: 1 }

/** What was not written lies in the middle; a stretch that today lies in has passed only up to today. */
function inTheMiddle({ year, month }: Found, { today, ahead }: DateColumn): DateRead | null {
  const precision = month === null ? 'year' : 'month'
  const middle = month === null ? MIDDLE_OF_YEAR : { month, day: MIDDLE_OF_MONTH }
  const found = exact(year, middle.month, middle.day)
  if (found === null) return null
  const now = formatDay(today)
  const stretch = precision === 'year' ? 4 : 7
  const current = !ahead && found.iso > now && found.iso.slice(0, stretch) === now.slice(0, stretch)
  return { iso: current ? now : found.iso, precision }
}
