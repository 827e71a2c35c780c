import type { LostPin, MoreHours, WhyLeft } from '@/lib/decisions/plan-left'
import type { Obstacle, OtherWeek, WhyThere } from '@/lib/decisions/plan-why'
import type { ToldAct } from '@/lib/store/write/plan-act'
import type { Day } from '@/lib/units/dates'
import type { Formats } from '../../ui/formats'

/** What places are called: the Mondays of the plan's weeks, and its bays. */
export type Places = { weeksOn: readonly Day[]; bays: readonly { name: string }[] }

type Told = { places: Places; formats: Formats }

export const weekWords = (weekOn: Day, formats: Formats) => `the week of ${formats.day(weekOn)}`

const bayName = ({ bays }: Places, bay: number) => bays[bay]?.name ?? `bay ${bay + 1}`

export const hoursWords = (hours: number, formats: Formats) =>
  `${formats.tally(hours)} ${Math.abs(hours - 1) < 0.05 ? 'hour' : 'hours'}`

/** Less than this is told as nothing. */
const LEAST = 0.5
/** Below this no figure behind the point is told, and more hours are told to bring next to nothing. */
const SMALL = 10
/** A gap of less than this share is told as money alone. */
const LEAST_SHARE = 0.001

/** Money that is reckoned, not counted. */
export const aboutMoney = (amount: number, formats: Formats): string =>
  `about ${Math.abs(amount) < SMALL ? formats.money(amount) : formats.roughMoney(amount)}`

/** What a move does to the plan's gain; negative is what it costs. */
export function costWords(difference: number, formats: Formats): string {
  if (Math.abs(difference) < LEAST) return 'costs nothing'
  const amount = aboutMoney(Math.abs(difference), formats)
  return difference < 0 ? `costs ${amount}` : `gains ${amount}`
}

/** How near the plan is to what no plan can pass. */
export function gapWords({ gain, bound }: { gain: number; bound: number | null }, formats: Formats): string {
  if (bound === null) return 'How much more a plan could gain was not found out.'
  const gap = bound - gain
  if (gap < LEAST) return 'No plan gains more.'
  const share = bound > 0 && gap / bound >= LEAST_SHARE ? ` (${formats.share(gap / bound)})` : ''
  return `No plan can gain more than ${aboutMoney(gap, formats)} beyond that${share}.`
}

/** The same for a plan that is being made, without a verb. */
export function gapLeft({ gain, bound }: { gain: number; bound: number | null }, formats: Formats): string {
  if (bound === null) return 'not known yet'
  const gap = bound - gain
  if (gap < LEAST) return 'nothing'
  const share = bound > 0 && gap / bound >= LEAST_SHARE ? ` (${formats.share(gap / bound)})` : ''
  return `at most ${aboutMoney(gap, formats)}${share}`
}

/** What keeps a visit from a place. */
export function obstacleWords(obstacle: Obstacle, { places, formats }: Told): string {
  switch (obstacle.reason) {
    case 'hours-full': {
      const by = obstacle.takenBy.length > 0 ? `, ${listOf(obstacle.takenBy)} there` : ''
      return `${formats.tally(obstacle.free)} of ${hoursWords(obstacle.needed, formats)} free${by}`
    }
    case 'too-long':
      return `needs ${hoursWords(obstacle.needed, formats)}, there are ${formats.tally(obstacle.most)}`
    case 'part-late':
      return `its part comes in ${weekWords(places.weeksOn[obstacle.inWeek] ?? 0, formats)}`
    case 'pinned':
      return `pinned to ${weekWords(places.weeksOn[obstacle.week] ?? 0, formats)}`
    case 'promised':
      return `promised for ${weekWords(places.weeksOn[obstacle.week] ?? 0, formats)}`
    case 'forbidden':
      return 'it is not to come then'
    case 'away':
      return 'it is not available then'
    case 'comes-already':
      return 'it comes then already'
    case 'nothing-due':
      return 'nothing is due then'
  }
}

const MOST_NAMED = 3

function listOf(names: readonly string[]): string {
  const shown = names.slice(0, MOST_NAMED)
  const more = names.length - shown.length
  const [last, ...before] = more > 0 ? [`${more} more`, ...shown.toReversed()] : shown.toReversed()
  return before.length > 0 ? `${before.toReversed().join(', ')} and ${last}` : (last ?? '')
}

/** Why a visit is in its week, in sentences. */
export function whySentences(why: WhyThere, told: Told): string[] {
  const { places, formats } = told
  const said: string[] = []
  if (why.pinned === 'pinned') said.push('Somebody has pinned it here.')
  if (why.pinned === 'promised') said.push('This week was promised.')
  if (why.comesAnyway) said.push('It is here that week for other work, so that coming costs nothing more.')
  const [best, ...others] = [...why.better].sort((a, b) => b.difference - a.difference)
  if (best) said.push(betterSentence(best, others.length, told))
  if (why.instead) {
    const week = weekWords(places.weeksOn[why.instead.week] ?? 0, formats)
    said.push(`The next best that is free is ${week}: that ${costWords(why.instead.difference, formats)}.`)
  } else said.push('There is no other week in which it could be.')
  if (why.partsToGet.length > 0)
    said.push('Its part is not there by then: it must not be driven, so get the part at once.')
  return said
}

function betterSentence(best: OtherWeek, others: number, told: Told): string {
  const { places, formats } = told
  const week = weekWords(places.weeksOn[best.week] ?? 0, formats)
  const blocked = best.obstacles.map((obstacle) => obstacleWords(obstacle, told)).join('; ')
  const also = others > 0 ? ` (and in ${others === 1 ? 'one other week' : `${others} other weeks`})` : ''
  const more = aboutMoney(best.difference, formats)
  return blocked
    ? `In ${week} it would gain ${more} more${also}, but: ${blocked}.`
    : `In ${week} it would gain ${more} more${also}, and could be.`
}

export const WHY_LEFT: Record<WhyLeft, string> = {
  'no-hours': 'no hours are left for it',
  'visits-used': 'the vehicle comes as often as it may be asked to',
  'too-long': 'no bay has so many hours in any week',
  'not-worth-a-visit': 'worth less than the visit',
  'part-late': 'its part comes too late',
  forbidden: 'the vehicle is not to come, or is away, when it would pay',
  pinned: 'the visit that stands leaves no room for it',
}

export const WHY_LOST: Record<LostPin['why'], string> = {
  'no-jobs': 'nothing is to be done on it any more',
  'too-long': 'it needs more hours than there are',
  forbidden: 'the vehicle is not to come, or is away',
  'no-hours': 'other visits that stand take the hours',
}

/** What one more bay day would be worth: the week in which it is worth most. */
export function moreHoursWords(more: readonly MoreHours[], { places, formats }: Told): string | null {
  const best = more.reduce<MoreHours | null>(
    (a, b) => (a === null || b.byPlanningAgain > a.byPlanningAgain ? b : a),
    null,
  )
  if (!best) return null
  const day = `One more bay day (${hoursWords(best.hours, formats)})`
  if (best.byPlanningAgain < SMALL) return `${day} would bring next to nothing in any week.`
  const week = weekWords(places.weeksOn[best.week] ?? 0, formats)
  return `${day} would be worth most in ${week}: ${aboutMoney(best.byPlanningAgain, formats)}.`
}

/** The last thing that a person did, as a sentence. */
export function actSentence({ act, unit, from, to, cost, what, whom }: ToldAct, told: Told): string {
  const { places, formats } = told
  const at = (place: NonNullable<ToldAct['to']>) =>
    `${weekWords(place.weekOn, formats)}, ${bayName(places, place.bay)}`
  switch (act) {
    case 'put-on':
      return `${unit} is on the plan: ${to ? at(to) : ''}.`
    case 'moved':
      return `${unit} is moved to ${to ? at(to) : ''}. That ${costWords(-(cost ?? 0), formats)}.`
    case 'pinned':
      return `${unit} is pinned to ${from ? at(from) : 'its week'}: it stays there when the plan is made again.`
    case 'unpinned':
      return `${unit} is not pinned any more.`
    case 'promised':
      return `${whom ?? 'Somebody'} was promised ${from ? weekWords(from.weekOn, formats) : 'a week'} for ${unit}.`
    case 'unpromised':
      return `The promise for ${unit} is taken back.`
    case 'forbidden':
      return `${unit} is off the plan, and not to come in ${from ? weekWords(from.weekOn, formats) : 'that week'}. Make the plan again to find it another.`
    case 'away':
      return `${unit} is not available on days that were noted.`
    case 'booked':
      return `Other work is booked: ${what}.`
    case 'withdrawn':
      return `Taken back: ${what}.`
    case 'taken':
      return 'The proposed plan was taken.'
    case 'left':
      return 'The proposed plan was left; the plan stays as it is.'
    case 'done':
      return `${unit} was done. What was found is to be written up.`
  }
}
