/** Visits as a calendar file that any calendar reads. Source: RFC 5545 (iCalendar), the parts named below. */
import { createHash } from 'node:crypto'
import { type Day, formatDay } from '@/lib/units/dates'

export interface CalendarEvent {
  /** What makes it the same event when the calendar is written again: no other has it. */
  key: string
  /** Whole days, the last one included; or two instants. */
  when: { from: Day; to: Day } | { start: Date; end: Date }
  summary: string
  description?: string
  location?: string
}

export interface CalendarTerms {
  name: string
  /** Whose calendar it is, for ids that no other organisation has. */
  organisation: string
  /** When it was written. */
  writtenAt: Date
}

/** Writes a calendar: lines of at most 75 octets, ended by CR and LF (3.1); instants in UTC (3.3.5). */
export function calendarText(events: readonly CalendarEvent[], terms: CalendarTerms): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Gudgeon//Plan of visits//EN',
    'CALSCALE:GREGORIAN',
    'METHOD:PUBLISH',
    `X-WR-CALNAME:${escaped(terms.name)}`,
    ...events.flatMap((event) => eventLines(event, terms)),
    'END:VCALENDAR',
  ]
  return lines.map((line) => `${folded(line)}\r\n`).join('')
}

function eventLines(event: CalendarEvent, { organisation, writtenAt }: CalendarTerms): string[] {
  const { summary, description, location } = event
  return [
    'BEGIN:VEVENT',
    `UID:${uidOf(organisation, event.key)}`,
    `DTSTAMP:${utc(writtenAt)}`,
    ...whenLines(event.when),
    `SUMMARY:${escaped(summary)}`,
    ...(description ? [`DESCRIPTION:${escaped(description)}`] : []),
    ...(location ? [`LOCATION:${escaped(location)}`] : []),
    'END:VEVENT',
  ]
}

/** Days end on the day after the last one: DTEND is not part of the event (3.6.1). */
function whenLines(when: CalendarEvent['when']): string[] {
  if ('from' in when)
    return [
      `DTSTART;VALUE=DATE:${date(when.from)}`,
      `DTEND;VALUE=DATE:${date(when.to + 1)}`,
      'TRANSP:TRANSPARENT',
    ]
  return [`DTSTART:${utc(when.start)}`, `DTEND:${utc(when.end)}`]
}

const date = (day: Day) => formatDay(day).replaceAll('-', '')

const utc = (instant: Date) => `${instant.toISOString().slice(0, 19).replaceAll(/[-:]/g, '')}Z`

/** The same for the same key, and nothing of what the key says. */
const uidOf = (organisation: string, key: string) =>
  `${createHash('sha256')
    .update(JSON.stringify([organisation, key]))
    .digest('hex')
    .slice(0, 32)}@gudgeon.invalid`

/** Text (3.3.11): control characters have no place in it. */
function escaped(text: string): string {
  const plain = text.replaceAll(/\r\n?/g, '\n').replaceAll(CONTROL, ' ')
  return plain.replaceAll(/[\\;,]/g, '\\$&').replaceAll('\n', '\\n')
}

const CONTROL = /[^\P{Cc}\n\t]/gu
const MOST_OCTETS = 75

/** A line folded before it is too long, never within a character (3.1). */
function folded(line: string): string {
  const rows: string[] = []
  let [row, octets] = ['', 0]
  for (const character of line) {
    const size = Buffer.byteLength(character)
    if (octets + size > MOST_OCTETS) {
      rows.push(row)
      // The space that begins a further row counts.
      ;[row, octets] = [' ', 1]
    }
    row += character
    octets += size
  }
  return [...rows, row].join('\r\n')
}
