/**
 * How much no plan can gain: hours of a week get a price, and each vehicle then chooses for itself (Lagrangian
 * relaxation; Fisher 1981, Management Science 27, 1–18). Every price gives a bound; the least is looked for by
 * subgradients with Polyak's step (1969).
 */
import { HOURS_SLACK } from '../plan-value'
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
    const { bound, slope } = priced(offers, forced, hours, prices, ground.request.visitsEach)
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

/** The bound at some prices of hours, and how it changes with each: hours there are less hours chosen. */
function priced(
  offers: Offers,
  { there }: Forced,
  hours: Float64Array,
  prices: Float64Array,
  visitsEach: number,
): { bound: number; slope: Float64Array } {
  const slope = hours.slice()
  let bound = 0
  for (let week = 0; week < hours.length; week++) bound += prices[week]! * hours[week]!
  for (const [c, ofCandidate] of offers.entries()) {
    const best = ofCandidate.map((offer, week) => bestOffer(offer, prices[week]!, week))
    best.sort((a, b) => b.worth - a.worth)
    // Of several visits each is at most as good as if it had all jobs to choose from.
    for (const [i, offer] of best.slice(0, visitsEach).entries()) {
      const must = there[c] && i === 0
      if (!(offer.worth > 0) && !must) break
      if (offer.worth === Number.NEGATIVE_INFINITY) break
      bound += offer.worth
      slope[offer.week] = slope[offer.week]! - offer.hours
    }
  }
  return { bound, slope }
}

function bestOffer({ money, hours }: Offers[number][number], price: number, week: number) {
  let best = { worth: Number.NEGATIVE_INFINITY, hours: 0, week }
  for (let i = 0; i < money.length; i++) {
    const worth = money[i]! - price * hours[i]!
    if (worth > best.worth) best = { worth, hours: hours[i]!, week }
  }
  return best
}
