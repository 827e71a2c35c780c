/** The weeks of a plan on the calendar, and what an organisation has said of them: hours, other work, days that are closed. */
import type { Day } from '@/lib/units/dates'
import type { PlanAsked, PlanJob } from './plan-request'

export const WEEK = 7
const WORKING_DAYS = 5

/** A bay with the hours that are worked there in a week, and the weeks in which it is otherwise. */
export interface Bay {
  name: string
  hours: number
  except: { weekOn: Day; hours: number }[]
}

/** What a plan is made from, before any vehicle. */
export interface PlanTermsStated {
  weeks: number
  bays: Bay[]
  /** Of all hours, the share kept for breakdowns. */
  kept: number
}

/** The Monday of a day's week. */
export const mondayOf = (day: Day): Day => day - ((((day + 3) % WEEK) + WEEK) % WEEK)

/** The Monday on which a plan begins that is made today: at the weekend the next one. */
export const firstDayOf = (today: Day): Day => {
  const monday = mondayOf(today)
  return today - monday < WORKING_DAYS ? monday : monday + WEEK
}

/** Of a week's working days, from Monday to Friday, the share that is not over, today counted. */
export const shareLeft = (weekOn: Day, today: Day): number =>
  Math.min(Math.max((weekOn + WORKING_DAYS - today) / WORKING_DAYS, 0), 1)

/** Hours worked by bay and week; of the week that has begun those that are left, and none of weeks that are over. */
export function hoursByBay(
  { bays }: Pick<PlanTermsStated, 'bays'>,
  weeks: readonly Day[],
  today: Day,
): number[][] {
  return bays.map(({ hours, except }) =>
    weeks.map((weekOn) => {
      const own = except.find((each) => each.weekOn === weekOn)
      return (own?.hours ?? hours) * shareLeft(weekOn, today)
    }),
  )
}

export const weeksFrom = (firstDay: Day, weeks: number): Day[] =>
  Array.from({ length: weeks }, (_, week) => firstDay + week * WEEK)

/** Days on which a vehicle is not to come, the last one included. */
export interface Closed {
  unit: string
  from: Day
  until: Day
  why: 'forbidden' | 'away'
}

/**
 * The weeks, of those given, in which it cannot come: a week is closed when all of its working days that are left are. (A
 * convention of ours: a visit has a week, no day; where some days are closed, whoever agrees on the day minds them.)
 */
export function closedWeeks(
  closed: Pick<Closed, 'from' | 'until'>,
  weeks: readonly Day[],
  today: Day,
): number[] {
  return weeks.flatMap((weekOn, week) => {
    const first = Math.max(weekOn, Math.min(today, weekOn + WORKING_DAYS - 1))
    return closed.from <= first && closed.until >= weekOn + WORKING_DAYS - 1 ? [week] : []
  })
}

/** Other work that is booked. */
export interface BookedWork {
  unit: string | null
  weekOn: Day
  bay: number
  hours: number
}

/** A visit that stands, by its Monday. */
export interface StandingVisit {
  unit: string
  weekOn: Day
  bay: number
  /** Ids. */
  jobs: readonly string[]
  why: 'pinned' | 'promised'
}

export interface PlanStated {
  terms: PlanTermsStated
  firstDay: Day
  /** How many weeks the jobs' gains are of. */
  weeks: number
  today: Day
  jobs: readonly PlanJob[]
  work: readonly BookedWork[]
  closed: readonly Closed[]
  standing: readonly StandingVisit[]
  prices: { visit: number; labourRate: number }
}

/**
 * The request that follows from all that is stated now. What lies outside its weeks or names a bay that is no more is
 * left out, and a visit that stands for a job that is no more stands for the others.
 */
export function planAsked(stated: PlanStated): PlanAsked {
  const { terms, firstDay, weeks, today, jobs, prices } = stated
  const days = weeksFrom(firstDay, weeks)
  const bays = terms.bays.length
  const weekOf = (weekOn: Day) => days.indexOf(weekOn)
  const known = new Map(jobs.map(({ id, unit }) => [id, unit]))
  return {
    weeks,
    hours: hoursByBay(terms, days, today),
    keptForBreakdowns: terms.kept,
    ...prices,
    jobs: [...jobs],
    booked: stated.work.flatMap(({ unit, weekOn, bay, hours }) =>
      weekOf(weekOn) >= 0 && bay < bays ? [{ unit, week: weekOf(weekOn), bay, hours }] : [],
    ),
    pinned: stated.standing.flatMap(({ unit, weekOn, bay, jobs: agreed, why }) => {
      const own = agreed.filter((id) => known.get(id) === unit)
      const week = weekOf(weekOn)
      return week < 0 || own.length === 0
        ? []
        : [{ unit, week, bay: bay < bays ? bay : null, jobs: own, why }]
    }),
    forbidden: stated.closed.flatMap(({ unit, why, ...days_ }) =>
      closedWeeks(days_, days, today).map((week) => ({ unit, week, bay: null, why })),
    ),
  }
}
