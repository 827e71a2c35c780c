/** Where each candidate of a plan is, the hours that are left, and the best place for one more. It holds at any moment. */
import { HOURS_SLACK } from '../plan-value'
import { type Candidate, type Ground, largestFitting, weekOf } from './plan-ground'

export const NOWHERE = -1
/** Less than this is rounding. */
export const LEAST = 1e-7

/** Where each candidate is, and with which of its choices there. */
export interface Placing {
  at: Int32Array
  choice: Int32Array
}

export class PlanPlacing {
  protected readonly at: Int32Array
  protected readonly choice: Int32Array
  protected readonly free: Float64Array
  protected readonly there: Set<number>[]
  /** By week; a visit put in where hours are scarce has to be worth them. */
  hourPrices: Float64Array
  /** How much these prices count. */
  protected priceFactor = 0
  total = 0

  constructor(readonly ground: Ground) {
    this.at = new Int32Array(ground.candidates.length).fill(NOWHERE)
    this.choice = new Int32Array(ground.candidates.length)
    this.free = ground.free.slice()
    this.there = Array.from(ground.free, () => new Set<number>())
    this.hourPrices = new Float64Array(ground.weeks)
  }

  placing(): Placing {
    return { at: this.at.slice(), choice: this.choice.slice() }
  }

  /** Goes back to a placing. */
  restore({ at, choice }: Placing): void {
    for (let c = 0; c < at.length; c++) this.takeOut(c)
    at.forEach((slot, c) => {
      if (slot !== NOWHERE) this.put(c, slot, choice[c]!)
    })
  }

  /** Puts in, most worth an hour first, whatever is nowhere and fits somewhere. */
  fill(): void {
    const { candidates } = this.ground
    const outside = candidates.flatMap((_, c) => (this.at[c] === NOWHERE ? [c] : []))
    const density = candidates.map((candidate) => bestDensity(candidate))
    outside.sort((a, b) => density[b]! - density[a]!)
    for (const c of outside) this.putBest(c)
  }

  /** Puts a candidate into a slot with a choice of its own, or where it is best if that does not fit. */
  putAt(c: number, slot: number, choice: number): void {
    if (this.choicesAt(c, slot)[choice]!.hours <= this.free[slot]! + HOURS_SLACK) this.put(c, slot, choice)
    else this.putBest(c)
  }

  /** Puts a candidate that is nowhere into a slot with what it can do there within some hours, if anything. */
  putWithin(c: number, slot: number, hours: number): void {
    const choice = this.fitting(c, slot, Math.min(hours, this.free[slot]!))
    if (choice >= 0 && this.at[c] === NOWHERE) this.put(c, slot, choice)
  }

  /** Puts a candidate into a week's bays, or into the best place elsewhere if it does not fit there. */
  putInto(c: number, week: number): void {
    const { bays } = this.ground
    const slots = Array.from({ length: bays }, (_, bay) => week * bays + bay)
    const best = this.bestPlace(c, slots)
    if (best === null) this.putBest(c)
    else this.put(c, best.slot, best.choice)
  }

  protected worthOf(c: number): number {
    const slot = this.at[c]!
    if (slot === NOWHERE) return 0
    return this.choicesAt(c, slot)[this.choice[c]!]!.worth
  }

  protected choicesAt(c: number, slot: number) {
    return this.ground.candidates[c]!.choices[weekOf(this.ground.bays, slot)]!
  }

  protected takeOut(c: number): void {
    const slot = this.at[c]!
    if (slot === NOWHERE) return
    const { hours, worth } = this.choicesAt(c, slot)[this.choice[c]!]!
    this.free[slot] = this.free[slot]! + hours
    this.total -= worth
    this.there[slot]!.delete(c)
    this.at[c] = NOWHERE
  }

  protected put(c: number, slot: number, choice: number): void {
    const { hours, worth } = this.choicesAt(c, slot)[choice]!
    this.free[slot] = this.free[slot]! - hours
    this.total += worth
    this.there[slot]!.add(c)
    this.at[c] = slot
    this.choice[c] = choice
  }

  /** The choice with which a candidate fits into some hours of a slot; −1 where none does. */
  protected fitting(c: number, slot: number, hours: number): number {
    return this.ground.candidates[c]!.allowed[slot] ? largestFitting(this.choicesAt(c, slot), hours) : -1
  }

  /** Where a candidate gains most, the hours that it takes priced; among equals where it leaves the fewest hours. */
  private bestPlace(c: number, slots?: readonly number[]): { slot: number; choice: number } | null {
    let best: { slot: number; choice: number } | null = null
    let [most, tightest] = [0, Number.POSITIVE_INFINITY]
    const count = slots ? slots.length : this.free.length
    for (let i = 0; i < count; i++) {
      const slot = slots ? slots[i]! : i
      const fitting = this.fitting(c, slot, this.free[slot]!)
      if (fitting < 0) continue
      const price = this.priceFactor * this.hourPrices[weekOf(this.ground.bays, slot)]!
      const choice = this.dearest(c, slot, fitting, price)
      const { worth, hours } = this.choicesAt(c, slot)[choice]!
      const left = this.free[slot]! - hours
      const net = worth - price * hours
      if (net > most + LEAST || (net > most - LEAST && best !== null && left < tightest)) {
        most = net
        tightest = left
        best = { slot, choice }
      }
    }
    return best
  }

  /** Of the choices up to one, that which gains most at a price of hours. */
  private dearest(c: number, slot: number, last: number, price: number): number {
    if (price === 0) return last
    const choices = this.choicesAt(c, slot)
    let [best, most] = [last, Number.NEGATIVE_INFINITY]
    for (let i = 0; i <= last; i++) {
      const net = choices[i]!.worth - price * choices[i]!.hours
      if (net > most) [best, most] = [i, net]
    }
    return best
  }

  protected putBest(c: number): void {
    const best = this.bestPlace(c)
    if (best) this.put(c, best.slot, best.choice)
  }
}

function bestDensity({ choices }: Candidate): number {
  let best = 0
  for (const ofWeek of choices)
    for (const { worth, hours } of ofWeek) best = Math.max(best, worth / Math.max(hours, 0.1))
  return best
}
