import { type Day, dayIn } from './dates'

/** The day and the hour of the day (0 to 23) of an instant in a time zone (IANA name). */
export function clockIn(timeZone: string, instant: Date): { day: Day; hour: number } {
  const format = new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', hourCycle: 'h23' })
  return { day: dayIn(timeZone, instant), hour: Number(format.format(instant)) }
}
