import { formatDay } from '@/lib/units/dates'

/** Days from the beginnings of the two date systems to 1970-01-01 (ECMA-376 Part 1, 18.17.4.1; from memory). */
const SERIAL_OF_1970 = { from1900: 25_569, from1904: 24_107 }
/** The system of 1900 holds a 29 February 1900, which never was, as day 60; the days before it are one lower. */
const LEAP_DAY_OF_1900 = 60
const LAST = 2_958_465
const HALF_A_MILLISECOND = 0.5 / 86_400_000

/**
 * The calendar day of a serial date, its time of day left out.
 *
 * @param serial days since the beginning of the date system, the time of day as a fraction
 * @param is1904 whether day 0 is 1904-01-01; else day 1 is 1900-01-01
 * @returns ISO 8601; null where the system has no such day
 */
export function dayOfSerial(serial: number, is1904: boolean): string | null {
  // A date that was reckoned may fall short of its midnight by the dust of the arithmetic.
  const whole = Math.floor(serial + HALF_A_MILLISECOND)
  if (is1904) {
    const lies = whole >= 0 && whole <= LAST - SERIAL_OF_1970.from1900 + SERIAL_OF_1970.from1904
    return lies ? formatDay(whole - SERIAL_OF_1970.from1904) : null
  }
  if (!(whole >= 1 && whole <= LAST) || whole === LEAP_DAY_OF_1900) return null
  return formatDay(whole - SERIAL_OF_1970.from1900 + (whole < LEAP_DAY_OF_1900 ? 1 : 0))
}

/** Quoted words, escaped and padding characters, colours and locales: none of them is a part of the date. */
const NO_PART = /"[^"]*"?|\\.|_.|\*.|\[[^\]]*\]/g

/**
 * Whether a number format shows a day, a month by its name, or a year. One that shows only a time of day or a duration
 * does not: its number is no date.
 *
 * @param format as the workbook holds it, always in its English form: `dd.mm.yyyy`
 */
export const showsDay = (format: string): boolean => /[yd]|mmm/i.test(format.replace(NO_PART, ''))
