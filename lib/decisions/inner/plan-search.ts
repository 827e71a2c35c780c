/**
 * A plan made greedily and improved by exchanges: visits moved, swapped, put in another's place, and taken out and put
 * back by the handful (ruin and recreate, Schrimpf et al. 2000, J. Comput. Phys. 159, 139–171). It holds at any moment.
 */
import { HOURS_SLACK } from '../plan-value'
import { chanceNumbers } from './chance-numbers'
import { type Candidate, type Ground, largestFitting, weekOf } from './plan-ground'

const NOWHERE = -1
/** Less than this is rounding. */
const LEAST = 1e-7
const MOST_TAKEN_OUT = 8
/** How often hours count nothing, so that none are left unused. */
const UNPRICED = 0.3
const TELL_AFTER_SWEPT = 20
const TELL_AFTER_TURNS = 2_000

/** Where each candidate is, and with which of its choices there. */
export interface Placing {
  at: Int32Array
  choice: Int32Array
}

export class PlanSearch {
  private readonly at: Int32Array
  private readonly choice: Int32Array
  private readonly free: Float64Array
  private readonly there: Set<number>[]
  private readonly random: () => number
  /** By week; a visit put in where hours are scarce has to be worth them. */
  hourPrices: Float64Array
  private priceFactor = 0
  total = 0

  constructor(
    readonly ground: Ground,
    seed = 1,
  ) {
    this.at = new Int32Array(ground.candidates.length).fill(NOWHERE)
    this.choice = new Int32Array(ground.candidates.length)
    this.free = ground.free.slice()
    this.there = Array.from(ground.free, () => new Set<number>())
    this.random = chanceNumbers(seed)
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

  /** Exchanges until none improves, or until there is no more time; tells now and then that it is better. */
  *exchange(goOn: () => boolean): Generator<void, void> {
    const count = this.at.length
    for (let improved = true; improved && goOn(); ) {
      improved = false
      for (let c = 0; c < count && goOn(); c++) {
        if (this.relocate(c)) improved = true
        for (let other = 0; other < count; other++) if (this.replace(c, other)) improved = true
        if (improved && c % TELL_AFTER_SWEPT === 0) yield
      }
    }
  }

  /**
   * Takes a handful out, puts it back in another order, and keeps what is better; what is a little worse is kept for a
   * while, the less the later.
   *
   * @returns the best that was seen; on the way, whenever there is a better one
   */
  *shuffle(rounds: number, goOn: () => boolean): Generator<Placing, Placing> {
    let best = this.placing()
    if (this.at.length === 0) return best
    let [bestTotal, toldTotal] = [this.total, this.total]
    // Of the money of a typical visit; stop jobs and pins are never traded for it.
    const typical = this.typicalMoney()
    for (let round = 0; round < rounds; round++) {
      if (round % 64 === 0 && !goOn()) break
      this.turn(0.03 * typical * (1 - round / rounds))
      if (this.total > bestTotal + LEAST) {
        bestTotal = this.total
        best = this.placing()
      }
      if (round % TELL_AFTER_TURNS === 0 && bestTotal > toldTotal) {
        toldTotal = bestTotal
        yield best
      }
    }
    this.priceFactor = 0
    this.restore(best)
    return best
  }

  /** One handful out and in again, undone where that costs more than is tolerated. */
  private turn(tolerated: number): void {
    const before = this.total
    this.priceFactor = this.random() < UNPRICED ? 0 : 0.4 + 0.8 * this.random()
    const undo = this.reinsert(this.handful())
    if (this.total < before - tolerated * this.random() - LEAST) undo()
  }

  private typicalMoney(): number {
    const { stopWorth } = this.ground
    let [sum, count] = [0, 0]
    for (const { choices } of this.ground.candidates)
      for (const ofWeek of choices) {
        const last = ofWeek.at(-1)
        if (!last) continue
        sum += last.worth % stopWorth
        count++
      }
    return count > 0 ? sum / count : 0
  }

  private worthOf(c: number): number {
    const slot = this.at[c]!
    if (slot === NOWHERE) return 0
    return this.choicesAt(c, slot)[this.choice[c]!]!.worth
  }

  private choicesAt(c: number, slot: number) {
    return this.ground.candidates[c]!.choices[weekOf(this.ground.bays, slot)]!
  }

  private takeOut(c: number): void {
    const slot = this.at[c]!
    if (slot === NOWHERE) return
    const { hours, worth } = this.choicesAt(c, slot)[this.choice[c]!]!
    this.free[slot] = this.free[slot]! + hours
    this.total -= worth
    this.there[slot]!.delete(c)
    this.at[c] = NOWHERE
  }

  private put(c: number, slot: number, choice: number): void {
    const { hours, worth } = this.choicesAt(c, slot)[choice]!
    this.free[slot] = this.free[slot]! - hours
    this.total += worth
    this.there[slot]!.add(c)
    this.at[c] = slot
    this.choice[c] = choice
  }

  /** The choice with which a candidate fits into some hours of a slot; −1 where none does. */
  private fitting(c: number, slot: number, hours: number): number {
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

  private putBest(c: number): void {
    const best = this.bestPlace(c)
    if (best) this.put(c, best.slot, best.choice)
  }

  private relocate(c: number): boolean {
    return this.attempt([c], () => this.putBest(c))
  }

  /** One takes the other's place; the other goes to the best that is left. */
  private replace(c: number, other: number): boolean {
    const slot = this.at[other]!
    if (slot === NOWHERE || slot === this.at[c] || c === other) return false
    const hours = this.choicesAt(other, slot)[this.choice[other]!]!.hours
    const choice = this.fitting(c, slot, this.free[slot]! + hours)
    if (choice < 0) return false
    // It cannot pay where even the best place for the other would not.
    const gained = this.choicesAt(c, slot)[choice]!.worth - this.worthOf(c)
    if (gained + mostWorth(this.ground.candidates[other]!) - this.worthOf(other) <= LEAST) return false
    return this.attempt([c, other], () => {
      this.put(c, slot, this.fitting(c, slot, this.free[slot]!))
      this.putBest(other)
    })
  }

  /** Takes some out and acts; everything is as before where that did not improve. */
  private attempt(moved: readonly number[], act: () => void): boolean {
    const before = this.total
    const undo = this.takeAllOut(moved)
    act()
    if (this.total > before + LEAST) return true
    undo()
    return false
  }

  private takeAllOut(moved: readonly number[]): () => void {
    const before = moved.map((c) => ({ c, slot: this.at[c]!, choice: this.choice[c]! }))
    for (const c of moved) this.takeOut(c)
    return () => {
      for (const c of moved) this.takeOut(c)
      for (const { c, slot, choice } of before) if (slot !== NOWHERE) this.put(c, slot, choice)
    }
  }

  private reinsert(moved: number[]): () => void {
    const undo = this.takeAllOut(moved)
    for (const c of moved) this.putBest(c)
    return undo
  }

  /** Some candidates in an order by chance: the visits of one or two slots and some that are nowhere, or any. */
  private handful(): number[] {
    const { random } = this
    const picked = new Set<number>()
    const slots = random() < 0.7 ? [this.anyOf(this.free.length), this.anyOf(this.free.length)] : []
    for (const slot of slots) for (const c of this.there[slot]!) if (random() < 0.6) picked.add(c)
    const more = 1 + this.anyOf(4)
    for (let i = 0; i < more; i++) picked.add(this.anyOf(this.at.length))
    const all = [...picked]
    for (let i = all.length - 1; i > 0; i--) {
      const j = this.anyOf(i + 1)
      ;[all[i], all[j]] = [all[j]!, all[i]!]
    }
    return all.slice(0, MOST_TAKEN_OUT + slots.length)
  }

  private anyOf(count: number): number {
    return Math.floor(this.random() * count)
  }
}

function bestDensity({ choices }: Candidate): number {
  let best = 0
  for (const ofWeek of choices)
    for (const { worth, hours } of ofWeek) best = Math.max(best, worth / Math.max(hours, 0.1))
  return best
}

function mostWorth({ choices }: Candidate): number {
  let most = 0
  for (const ofWeek of choices) most = Math.max(most, ofWeek.at(-1)?.worth ?? 0)
  return most
}
