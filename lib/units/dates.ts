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
  const day = Date.UTC(Number(match[1]), Number(match[2]) - 1, Number(match[3])) / MS_PER_DAY
  return formatDay(day) === text ? day : null
}

/** Writes a day as an ISO 8601 calendar date. */
export function formatDay(day: Day): string {
  return new Date(day * MS_PER_DAY).toISOString().slice(0, 10)
}

/** The calendar day of an instant in a time zone (IANA name). */
export function dayIn(timeZone: string, instant: Date): Day {
  const parts = new Intl.DateTimeFormat('en-CA', { timeZone, dateStyle: 'short' }).format(instant)
  return parseDay(parts) ?? Math.floor(instant.getTime() / MS_PER_DAY)
}
