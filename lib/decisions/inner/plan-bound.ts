/**
 * How much no plan can gain: hours of a week get a price, and each vehicle then chooses for itself (Lagrangian
 * relaxation; Fisher 1981, Management Science 27, 1–18). Every price gives a bound; the least is looked for by
 * subgradients with Polyak's step (1969).
 */
import type { PlanJob } from '../plan-request'
import { canBeDoneIn, comesAnyway, HOURS_SLACK } from '../plan-value'
import { groupsOf } from './plan-choices'
import { type Ground, moneyOf } from './plan-ground'

export interface Bound {
  /** Money that no plan passes which has what is forced. */
  bound: number
  /** By week: what one more hour would gain, at that bound. */
  hourPrices: Float64Array
}

/** What every plan that is compared has: by candidate, whether it must be there with all its stop jobs. */
export interface Forced {
  there: readonly boolean[]
  allStops: readonly boolean[]
}

const STEPS = 400
const HALVE_AFTER = 15

/** By candidate and week, its choices as money and hours. */
type Offers = { money: Float64Array; hours: Float64Array }[][]

/** @param reached money of the best plan known, from which the length of a step follows */
export function boundOf(ground: Ground, forced: Forced, reached: number): Bound {
  const offers = offersOf(ground, forced)
  return leastBound(ground, reached, (prices) => priced(offers, forced, prices, ground.request.visitsEach))
}

/**
 * The same where vehicles come several times: each job in its best week, once, with the stripping of each group and the
 * price of a visit paid once. (`boundOf` lets each visit choose among all jobs, done or not.)
 */
export function boundByJob(ground: Ground, reached: number): Bound {
  const units = ground.candidates.map((candidate) => ({
    weeks: candidate.choices.flatMap((choices, week) => (choices.length > 0 ? [week] : [])),
    groups: groupsOf(ground.request.jobs.filter(({ unit }) => unit === candidate.unit)),
    visit: Math.min(
      ...candidate.choices.map((_, week) =>
        comesAnyway(ground.request, candidate.unit, week) ? 0 : ground.request.visit,
      ),
    ),
  }))
  const { labourRate } = ground.request
  return leastBound(ground, reached, (prices) => {
    const chosen: Chosen = { worth: 0, hours: new Float64Array(prices.length) }
    const cheapest = Math.min(...prices)
    for (const { weeks, groups, visit } of units) {
      const ofUnit = groups.map((group) => bestByJob(group, weeks, prices, labourRate, cheapest))
      const worth = ofUnit.reduce((sum, each) => sum + each.worth, 0) - visit
      if (!(worth > 0)) continue
      chosen.worth += worth
      for (const each of ofUnit)
        for (const { week, hours } of each.taken) chosen.hours[week] = chosen.hours[week]! + hours
    }
    return chosen
  })
}

function bestByJob(
  group: readonly PlanJob[],
  weeks: readonly number[],
  prices: Float64Array,
  labourRate: number,
  cheapest: number,
): { worth: number; taken: { week: number; hours: number }[] } {
  const taken: { week: number; hours: number }[] = []
  let [worth, least] = [0, Number.POSITIVE_INFINITY]
  for (const job of group) {
    const shared = job.access === null ? 0 : job.sharedHours
    const hours = job.hours - shared
    let best = { worth: 0, week: -1 }
    for (const week of weeks) {
      if (!canBeDoneIn(job, week)) continue
      const there = job.gainByWeek[week]! + shared * labourRate - prices[week]! * hours
      if (there > best.worth) best = { worth: there, week }
    }
    if (best.week < 0) continue
    worth += best.worth
    least = Math.min(least, shared)
    taken.push({ week: best.week, hours })
  }
  // Whichever of them are done, the least of their stripping is done once.
  const stripping = taken.length > 0 ? least * (labourRate + cheapest) : 0
  return worth > stripping ? { worth: worth - stripping, taken } : { worth: 0, taken: [] }
}

/** What vehicles choose at some prices of hours: what that is worth to them, hours paid, and the hours by week. */
type Chosen = { worth: number; hours: Float64Array }

function leastBound(ground: Ground, reached: number, choose: (prices: Float64Array) => Chosen): Bound {
  const { weeks, bays } = ground
  const hours = Float64Array.from({ length: weeks }, (_, week) => {
    let sum = 0
    // What hours may be overrun by, no bound may deny.
    for (let bay = 0; bay < bays; bay++) sum += ground.free[week * bays + bay]! + HOURS_SLACK
    return sum
  })
  const prices = new Float64Array(weeks)
  let best: Bound = { bound: Number.POSITIVE_INFINITY, hourPrices: prices.slice() }
  let [length, stale] = [1, 0]
  for (let step = 0; step < STEPS; step++) {
    const chosen = choose(prices)
    const slope = hours.map((each, week) => each - chosen.hours[week]!)
    const bound = hours.reduce((sum, each, week) => sum + prices[week]! * each, chosen.worth)
    if (!(bound >= best.bound - 1e-9 * Math.abs(bound))) {
      best = { bound, hourPrices: prices.slice() }
      stale = 0
    } else if (++stale >= HALVE_AFTER) {
      length /= 2
      stale = 0
      prices.set(best.hourPrices)
      continue
    }
    const square = slope.reduce((sum, each) => sum + each * each, 0)
    const gap = bound - reached
    if (square === 0 || gap <= 1e-9 || length < 1e-5) break
    for (let week = 0; week < weeks; week++)
      prices[week] = Math.max(prices[week]! - (length * gap * slope[week]!) / square, 0)
  }
  return best
}

function offersOf(ground: Ground, { allStops }: Forced): Offers {
  return ground.candidates.map((candidate, c) =>
    candidate.choices.map((choices) => {
      const kept = allStops[c] ? choices.filter(({ stops }) => stops === candidate.stops) : choices
      return {
        money: Float64Array.from(kept, (choice) => moneyOf(ground, candidate, choice)),
        hours: Float64Array.from(kept, (choice) => choice.hours),
      }
    }),
  )
}

/** Each vehicle's best set of jobs, or several, at some prices of hours. */
function priced(offers: Offers, { there }: Forced, prices: Float64Array, visitsEach: number): Chosen {
  const chosen: Chosen = { worth: 0, hours: new Float64Array(prices.length) }
  for (const [c, ofCandidate] of offers.entries()) {
    const best = ofCandidate.map((offer, week) => bestOffer(offer, prices[week]!, week))
    best.sort((a, b) => b.worth - a.worth)
    // Of several visits each is at most as good as if it had all jobs to choose from.
    for (const [i, offer] of best.slice(0, visitsEach).entries()) {
      const must = there[c] && i === 0
      if (offer.worth === Number.NEGATIVE_INFINITY || (!(offer.worth > 0) && !must)) break
      chosen.worth += offer.worth
      chosen.hours[offer.week] = chosen.hours[offer.week]! + offer.hours
    }
  }
  return chosen
}

function bestOffer({ money, hours }: Offers[number][number], price: number, week: number) {
  let best = { worth: Number.NEGATIVE_INFINITY, hours: 0, week }
  for (let i = 0; i < money.length; i++) {
    const worth = money[i]! - price * hours[i]!
    if (worth > best.worth) best = { worth, hours: hours[i]!, week }
  }
  return best
}
