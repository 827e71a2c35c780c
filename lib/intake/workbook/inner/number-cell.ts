/** Numbers and distances as people write them in a table, by what was decided for the column. */
import { KM_PER_MILE } from '@/lib/units/distances'
import type { ColumnMapping } from '../mapping'

type Decimal = ColumnMapping['decimal']
type Unit = ColumnMapping['distance']

/** Nobody writes a longer one; a text without end is not searched for one. */
const LONGEST_NUMBER = 60

const BLANKS = /[\s\u00a0\u2007\u2009\u202f]+/g
const MONEY = '€|\\$|£|¥|CHF|EUR|USD|GBP|SFr\\.?|Fr\\.?|kr\\.?'
const AROUND = new RegExp(`^(?:${MONEY}) ?(?=[\\d-])|(?<=\\d) ?(?:${MONEY})$`, 'gi')
/** `1.234,-`: no cents. */
const NO_CENTS = /(?<=\d[.,])[-–—]{1,2}$/
const OF_HOURS = /(?<=\d) ?(?:h|hrs?|hours?|std\.?|stunden|heures?|horas?)$/i

/**
 * Reads a number: `84.210`, `84 210`, `84'210`, `1.234,50 €`, `3,5 h`. Where only one reading is possible, that is it;
 * a lone mark with three figures behind it is decided by the column.
 *
 * @returns null where it is no number, or not one under this decimal mark
 */
export function readNumber(text: string, decimal: Decimal): number | null {
  if (text.length > LONGEST_NUMBER) return null
  const plain = text
    .replace(BLANKS, ' ')
    .replace(/[’´`]/g, "'")
    .trim()
    .replace(AROUND, '')
    .replace(NO_CENTS, '00')
    .replace(OF_HOURS, '')
  if (/^-?\d+(?:\.\d+)?e[+-]?\d+$/i.test(plain)) return Number(plain)
  const negative = plain.startsWith('-')
  const size = unsigned(negative ? plain.slice(1).trimStart() : plain, decimal)
  return size === null ? null : negative ? -size : size
}

const IN_BLANKS = /^\d{1,3}(?:([ '])\d{3})(?:\1\d{3})*(?:[.,]\d+)?$/
const WITH_MARKS = /^\d*(?:[.,]\d+)*$/

function unsigned(text: string, decimal: Decimal): number | null {
  if (IN_BLANKS.test(text)) return Number(text.replace(/[ ']/g, '').replace(',', '.'))
  if (text === '' || !WITH_MARKS.test(text)) return null
  const marks = text.replace(/\d/g, '')
  if (marks.length < 2) return marks === '' ? Number(text) : withOneMark(text, marks, decimal)
  const last = marks.at(-1) ?? ''
  const isDecimal = marks.indexOf(last) === marks.length - 1
  const whole = isDecimal ? text.slice(0, text.lastIndexOf(last)) : text
  if (!IN_THREES.test(whole)) return null
  return Number(`${whole.replace(/[.,]/g, '')}.${isDecimal ? text.slice(whole.length + 1) : 0}`)
}

const IN_THREES = /^[1-9]\d{0,2}(?:([.,])\d{3})(?:\1\d{3})*$/
const MARK_OF = { point: '.', comma: ',' }

function withOneMark(text: string, mark: string, decimal: Decimal): number | null {
  const thousands = IN_THREES.test(text)
  const isDecimal = decimal === null ? !thousands : mark === MARK_OF[decimal]
  if (isDecimal) return Number(text.replace(mark, '.'))
  return thousands ? Number(text.replace(mark, '')) : null
}

const WITH_UNIT =
  /^(?:odo\w*|km|kms|mi|miles)?[.: ]*(-?[\d.,' ]*\d) ?(?:(tkm|t ?km|tsd\.? ?km|k ?km|k ?mi|k ?miles?|k)|(km|kms|kilom\w*|mi|mls|miles?))?\.?$/i
const THOUSAND = 1000
const LARGEST = 10_000_000

/**
 * Reads a distance: as a number, with or without its unit, or in thousands (`184k`, `184 tkm`). One that names its own
 * unit is converted to the column's.
 *
 * @returns the distance in the column's unit; null where it is none
 */
export function readDistance(text: string, { decimal, distance }: DistanceColumn): number | null {
  if (text.length > LONGEST_NUMBER) return null
  const plain = text.replace(BLANKS, ' ').replace(/[’´`]/g, "'").trim()
  const [, number = '', thousands, own] = WITH_UNIT.exec(plain) ?? []
  if (thousands === undefined) return converted(readNumber(number, decimal), own ?? null, distance)
  const size = readNumber(number, null)
  const whole = size === null || size * THOUSAND > LARGEST ? null : size * THOUSAND
  return converted(whole, /^k$/i.test(thousands) ? null : thousands, distance)
}

type DistanceColumn = Pick<ColumnMapping, 'decimal' | 'distance'>

function converted(value: number | null, written: string | null, column: Unit): number | null {
  if (value === null || written === null) return value
  const own: Unit = /mi|mls/i.test(written) ? 'mi' : 'km'
  if (own === column) return value
  return own === 'mi' ? value * KM_PER_MILE : value / KM_PER_MILE
}
