import type { PlanChanges } from '@/lib/jobs/plan-changes'
import type { ProposedPlan } from '@/lib/jobs/plan-proposal'
import type { Formats } from '../../ui/formats'
import { countWord } from '../../ui/words'
import { aboutMoney, costWords } from './plan-words'

const MOST_NAMED = 4

/** Names as far as they fit, and how many more. */
export function namesWords(units: readonly string[], formats: Formats): string {
  const shown = units.slice(0, units.length > MOST_NAMED ? MOST_NAMED - 1 : MOST_NAMED)
  const more = units.length - shown.length
  const named = more > 0 ? [...shown, `${formats.count(more)} more`] : shown
  if (named.length < 2) return named.join('')
  return `${named.slice(0, -1).join(', ')} and ${named.at(-1)}`
}

/** Since when a plan is out of date, and by what, in one sentence. */
export function changesWords(changes: PlanChanges, formats: Formats): string {
  const { stopped, toBook, released, parts, booked, otherWork, terms, weekOver } = changes
  const of = (units: readonly string[], one: string, many: string) =>
    units.length === 0 ? [] : [`${namesWords(units, formats)} ${units.length === 1 ? one : many}`]
  const by = [
    ...of(stopped, 'must not be driven now', 'must not be driven now'),
    ...of(toBook, 'is to be booked in now', 'are to be booked in now'),
    ...of(released, 'need not come any more', 'need not come any more'),
    ...of(parts, 'needs a part whose stock has changed', 'need parts whose stock has changed'),
    ...of(booked, 'has other bookings or days away', 'have other bookings or days away'),
    ...(otherWork ? ['other work was booked or taken back'] : []),
    ...(terms ? ['bays or hours were changed'] : []),
    ...(weekOver ? ['a week of it is over'] : []),
  ]
  return `Out of date since ${formats.day(changes.since)}: ${by.join('; ')}.`
}

/** What a proposed plan would bring, in sentences. */
export function broughtWords(
  {
    difference,
    gain,
    failures,
    isOverfull,
  }: Pick<ProposedPlan, 'difference' | 'gain' | 'failures' | 'isOverfull'>,
  formats: Formats,
): string[] {
  const { moved, added, dropped, otherJobs, otherBay, same } = difference
  const visits = (count: number, one: string, many: string) =>
    count === 0 ? [] : [`${countWord(count, formats.count)} ${count === 1 ? one : many}`]
  const changed = [
    ...visits(moved.length, 'visit moves to another week', 'visits move to another week'),
    ...visits(added.length, 'comes in new', 'come in new'),
    ...visits(dropped.length, 'goes', 'go'),
    ...visits(otherJobs.length, 'has other jobs', 'have other jobs'),
    ...visits(otherBay.length, 'is in another bay', 'are in another bay'),
  ]
  if (changed.length === 0)
    return ['Worked out again with all that is known now, every visit stays where it is.']
  const stay = same === 0 ? '' : `; ${formats.count(same)} ${same === 1 ? 'stays' : 'stay'} as they are`
  return [
    `${upperFirst(changed.join(', '))}${same === 1 ? stay.replace('they are', 'it is') : stay}. What is pinned or promised does not move.`,
    ...(isOverfull ? ['The plan as it stands takes hours or weeks that are not there any more.'] : []),
    `By what is known now it gains ${aboutMoney(gain.after, formats)} against leaving everything until after it; the plan as it stands gains ${aboutMoney(gain.before, formats)}. Taking it ${costWords(gain.after - gain.before, formats)}.`,
    riskWords(failures, formats),
  ]
}

/** Below this no difference is told: nobody acts on it. */
const LEAST_FAILURES = 0.05

function riskWords({ before, after }: ProposedPlan['failures'], formats: Formats): string {
  if (Math.abs(before - after) < LEAST_FAILURES)
    return 'Of the parts whose visits differ, as many are expected to fail before their visits as now.'
  return `Of the parts whose visits differ, about ${formats.tally(after)} are expected to fail before their visits or the end of the plan; as it stands about ${formats.tally(before)}.`
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
