import type { ColumnProfile } from '../profile'
import { monthNamed } from './month-names'

/** What the texts of a column look like, counted. */
export type Shapes = ColumnProfile['shapes']
export type Shape = keyof Shapes

export const noShapes = (): Shapes => ({
  iso: 0,
  dayFirst: 0,
  monthFirst: 0,
  eitherOrder: 0,
  monthOnly: 0,
  commaDecimal: 0,
  pointDecimal: 0,
  eitherDecimal: 0,
})

/**
 * What a text looks like; null where it looks like no date and no number with a mark in it. A date with the month's name
 * can be read in one way only, as one of ISO 8601 can, and is counted as one.
 */
export const shapeOf = (text: string): Shape | null => {
  if (text.length > LONGEST || !/\d/.test(text)) return null
  const plain = text.trim().replace(TIME, '')
  return dateShape(plain) ?? decimalShape(plain)
}

const LONGEST = 40
const TIME = /[ T]+\d{1,2}[:h]\d{2}(?::\d{2}(?:[.,]\d+)?)?(?: ?[ap]m)?(?: ?(?:Z|[+-]\d{2}:?\d{2}))?$/i

const YEAR_FIRST = /^(\d{4})([-/. ])(\d{1,2})\2(\d{1,2})$|^((?:19|20)\d\d)(\d\d)(\d\d)$/
const IN_FIGURES = /^(\d{1,2})([-/. ])(\d{1,2})\2(?:\d{4}|\d{2})$/
const MONTH_ONLY = /^(\d{1,2})[-/. ](?:19|20)\d\d$|^(?:19|20)\d\d[-/. ](\d{1,2})$/
const MONTH_BY_NAME = /^(\p{L}{3,})\.?[-/ ']*(?:\d{4}|\d{2})$|^(?:\d{4})[-/ ]*(\p{L}{3,})\.?$/u

const DAY_BY_NAME =
  /^\d{1,2}(?:st|nd|rd|th)?[-/. ]*(?:de |of )?(\p{L}{3,})[-/., ']*(?:\d{4}|\d{2})$|^(\p{L}{3,})\.? *\d{1,2}(?:st|nd|rd|th)?,? +\d{4}$/u

const isMonth = (figures: string | undefined): boolean => Number(figures) >= 1 && Number(figures) <= 12
const isDay = (figures: string | undefined): boolean => Number(figures) >= 1 && Number(figures) <= 31

function dateShape(text: string): Shape | null {
  const year = YEAR_FIRST.exec(text)
  if (year && isMonth(year[3] ?? year[6]) && isDay(year[4] ?? year[7])) return 'iso'
  const [, first, , second] = IN_FIGURES.exec(text) ?? []
  if (first !== undefined) {
    const [dayFirst, monthFirst] = [isDay(first) && isMonth(second), isMonth(first) && isDay(second)]
    if (dayFirst && monthFirst) return 'eitherOrder'
    return dayFirst ? 'dayFirst' : monthFirst ? 'monthFirst' : null
  }
  const month = MONTH_ONLY.exec(text)
  if (month && isMonth(month[1] ?? month[2])) return 'monthOnly'
  if (namesMonth(MONTH_BY_NAME, text)) return 'monthOnly'
  return namesMonth(DAY_BY_NAME, text) ? 'iso' : null
}

function namesMonth(form: RegExp, text: string): boolean {
  const found = form.exec(text)
  return found !== null && monthNamed(found[1] ?? found[2] ?? '') !== null
}

/** Units and currencies around a number. */
const AROUND = /^[\p{L}\p{Sc}.]{0,4} ?(?=[-+\d])|(?<=\d) ?(?:[\p{L}\p{Sc}%]{1,6}\.?|,-)$/gu
const WITH_MARKS = /^[-+]?\d+(?:[.,]\d+)+$/
const IN_THREES = /^[1-9]\d{0,2}(?:([.,])\d{3})(?:\1\d{3})*$/

function decimalShape(text: string): Shape | null {
  const figures = text.replace(AROUND, '').replace(/(?<=\d)[ '’\u00a0\u202f](?=\d{3})/g, '')
  if (!WITH_MARKS.test(figures)) return null
  const marks = figures.replace(/[^.,]/g, '')
  const last = marks.at(-1)
  const unsigned = figures.replace(/^[-+]/, '')
  if (marks.length === 1) {
    if (IN_THREES.test(unsigned)) return 'eitherDecimal'
    return last === ',' ? 'commaDecimal' : 'pointDecimal'
  }
  const isOfThousands = marks === last?.repeat(marks.length)
  const whole = isOfThousands ? unsigned : unsigned.slice(0, unsigned.lastIndexOf(last ?? ''))
  if (!IN_THREES.test(whole)) return null
  // Marks that come again stand between thousands; the other one is left for the rest.
  return (last === ',') === !isOfThousands ? 'commaDecimal' : 'pointDecimal'
}
