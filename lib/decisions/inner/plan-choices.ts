/**
 * The sets of jobs that can be right for one vehicle on one visit: those that no other set beats with fewer hours and
 * more gain. Since jobs of two vehicles share nothing, a plan with one visit a vehicle is then a choice of one set a
 * vehicle and a place for it, and nothing is lost.
 */

import type { PlanJob } from '../plan-request'
import { canBeDoneIn, HOURS_SLACK, isDueIn } from '../plan-value'

/** One set of jobs on one visit. */
export interface Choice {
  hours: number
  /** Money gained, the visit not counted, and `stopWorth` for each job for which the vehicle must not be driven. */
  worth: number
  stops: number
  /** Whether one of the jobs is itself a reason to come. */
  due: boolean
  jobs: readonly PlanJob[]
}

export interface ChoiceTerms {
  week: number
  labourRate: number
  stopWorth: number
  /** Hours of the roomiest bay. */
  mostHours: number
  /** Jobs without which there is no visit. */
  needed: ReadonlySet<string>
  /** The vehicle comes whether or not one of the jobs is a reason to. */
  comesAnyhow: boolean
}

const NOTHING: Choice = { hours: 0, worth: 0, stops: 0, due: false, jobs: [] }

/**
 * Every set worth choosing, fewest hours and least worth first; the empty one among them where nothing is needed.
 *
 * Method: dynamic programming over access groups, keeping the sets that are not dominated (Nemhauser & Ullmann 1969,
 * Management Science 15, 494–505).
 */
export function choicesOf(jobs: readonly PlanJob[], terms: ChoiceTerms): Choice[] {
  let sets = [NOTHING]
  for (const group of groupsOf(jobs)) sets = undominated(combine(sets, setsOfGroup(group, terms), terms))
  return sets
}

/** Jobs by access, those that share nothing alone. */
export function groupsOf(jobs: readonly PlanJob[]): PlanJob[][] {
  const groups = new Map<string, PlanJob[]>()
  const alone = jobs.filter(({ access }) => access === null).map((job) => [job])
  for (const job of jobs)
    if (job.access !== null) groups.set(job.access, [...(groups.get(job.access) ?? []), job])
  return [...alone, ...groups.values()]
}

/** Sets of one group: for each job as the one whose stripping is the largest, any of those that need no more. */
function setsOfGroup(group: readonly PlanJob[], terms: ChoiceTerms): Choice[] {
  const isNeeded = (job: PlanJob) => terms.needed.has(job.id)
  const bySharing = [...group].sort((a, b) => a.sharedHours - b.sharedHours)
  const sets = group.some(isNeeded) ? [] : [NOTHING]
  bySharing.forEach((widest, i) => {
    if (bySharing.slice(i + 1).some(isNeeded)) return
    let within = grow([NOTHING], widest, 0, terms, true)
    for (const job of bySharing.slice(0, i)) {
      within = undominated(grow(within, job, job.sharedHours, terms, isNeeded(job)))
    }
    sets.push(...within)
  })
  return undominated(sets)
}

/** Sets with one more job, and without it unless it must be there. */
function grow(
  sets: readonly Choice[],
  job: PlanJob,
  spared: number,
  terms: ChoiceTerms,
  must: boolean,
): Choice[] {
  const more: Choice = {
    hours: job.hours - spared,
    worth: job.gainByWeek[terms.week]! + spared * terms.labourRate + (job.stop ? terms.stopWorth : 0),
    stops: job.stop ? 1 : 0,
    due: terms.comesAnyhow || isDueIn(job, terms.week),
    jobs: [job],
  }
  const grown = canBeDoneIn(job, terms.week) ? combine(sets, [more], terms) : []
  return must ? grown : [...sets, ...grown]
}

function combine(sets: readonly Choice[], others: readonly Choice[], { mostHours }: ChoiceTerms): Choice[] {
  const combined: Choice[] = []
  for (const a of sets)
    for (const b of others) {
      const hours = a.hours + b.hours
      if (hours > mostHours + HOURS_SLACK) continue
      combined.push({
        hours,
        worth: a.worth + b.worth,
        stops: a.stops + b.stops,
        due: a.due || b.due,
        jobs: b.jobs.length > 0 ? [...a.jobs, ...b.jobs] : a.jobs,
      })
    }
  return combined
}

/** Without the sets that another beats; one that is a reason to come is not beaten by one that is none. */
function undominated(sets: Choice[]): Choice[] {
  sets.sort((a, b) => a.hours - b.hours || b.worth - a.worth || Number(b.due) - Number(a.due))
  let [best, bestDue] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY]
  return sets.filter((set) => {
    if (set.worth <= (set.due ? bestDue : best)) return false
    best = Math.max(best, set.worth)
    if (set.due) bestDue = Math.max(bestDue, set.worth)
    return true
  })
}
