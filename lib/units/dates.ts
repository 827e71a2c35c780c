/** Whole days since 1970-01-01, without a time of day or a zone. Every date of a record is one. */
export type Day = number

const ISO_DATE = /^(\d{4})-(\d{2})-(\d{2})$/
const MS_PER_DAY = 86_400_000

/**
 * Reads an ISO 8601 calendar date (`YYYY-MM-DD`).
 *
 * @returns the day, or null where the text has another form or names a day that does not exist.
 */
export function parseDay(text: string): Day | null {
  const match = ISO_DATE.exec(text)
  if (!match) return null
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])]
  if (year < 1000 || month < 1 || month > 12 || day < 1 || day > daysIn(year, month)) return null
  return Date.UTC(year, month - 1, day) / MS_PER_DAY
}

function daysIn(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31
}

/** Writes a day as an ISO 8601 calendar date. */
export function formatDay(day: Day): string {
  return new Date(day * MS_PER_DAY).toISOString().slice(0, 10)
}

const SPOKEN = new Intl.DateTimeFormat('en-GB', {
  day: 'numeric',
  month: 'short',
  year: 'numeric',
  timeZone: 'UTC',
})

/** A day as people write it: 24 Nov 2026. */
export function spokenDay(day: Day): string {
  return SPOKEN.format(day * MS_PER_DAY)
}

/** The calendar day of an instant in a time zone (IANA name). */
export function dayIn(timeZone: string, instant: Date): Day {
  const parts = new Intl.DateTimeFormat('en-CA', { timeZone, dateStyle: 'short' }).format(instant)
  return parseDay(parts) ?? Math.floor(instant.getTime() / MS_PER_DAY)
}
