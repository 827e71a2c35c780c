/** The visits of a plan as events of a calendar, each over the working days of its week. */
import type { PlanVisit } from '@/lib/decisions/plan-value'
import type { Day } from '@/lib/units/dates'
import type { CalendarEvent } from './icalendar'

interface CalendarPlan {
  /** On which the plan's first week begins. */
  firstDay: Day
  workingDays?: number
  words: VisitWords
  /** What a visit is known by, where it is kept under a name of its own. */
  keyOf?: (visit: PlanVisit) => string
}

export interface VisitWords {
  summary: (visit: PlanVisit) => string
  description: (visit: PlanVisit) => string
  bay: (bay: number) => string
}

/**
 * A plan names a week and a bay, no hour: an event spans the working days of its week, from Monday to Friday where the
 * first day is a Monday.
 */
export function visitEvents(
  visits: readonly PlanVisit[],
  { firstDay, workingDays = 5, words, keyOf = visitKey }: CalendarPlan,
): CalendarEvent[] {
  return visits.map((visit) => {
    const from = firstDay + 7 * visit.week
    return {
      key: keyOf(visit),
      when: { from, to: from + workingDays - 1 },
      summary: words.summary(visit),
      description: words.description(visit),
      location: words.bay(visit.bay),
    }
  })
}

/** A visit is the same one, wherever it is moved, while its vehicle comes for the same jobs. */
const visitKey = ({ unit, jobs }: PlanVisit) => JSON.stringify(['visit', unit, ...[...jobs].sort()])

/**
 * A time of day on a day in an organisation's time zone, as an instant. Where clocks are put forward over it, the time
 * after; where they are put back over it, the first of the two.
 *
 * @param timeZone IANA name
 */
export function instantIn(timeZone: string, day: Day, hour: number): Date {
  const wanted = day * MS_PER_DAY + hour * MS_PER_HOUR
  const offsets = [wanted - MS_PER_DAY, wanted + MS_PER_DAY].map((at) => offsetOf(timeZone, at))
  const possible = offsets.map((offset) => wanted - offset).sort((a, b) => a - b)
  const exact = possible.find((at) => at + offsetOf(timeZone, at) === wanted)
  return new Date(exact ?? possible.at(-1)!)
}

const MS_PER_DAY = 86_400_000
const MS_PER_HOUR = 3_600_000

/** Milliseconds by which a zone's clocks are ahead of UTC at an instant. */
function offsetOf(timeZone: string, at: number): number {
  const format = new Intl.DateTimeFormat('en-US', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  })
  const part = Object.fromEntries(format.formatToParts(at).map(({ type, value }) => [type, Number(value)]))
  const local = Date.UTC(part.year!, part.month! - 1, part.day!, part.hour!, part.minute!, part.second!)
  return local - Math.floor(at / 1000) * 1000
}
