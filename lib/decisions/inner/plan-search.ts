/**
 * A plan made greedily and improved by exchanges: visits moved, swapped, put in another's place, and taken out and put
 * back by the handful (ruin and recreate, Schrimpf et al. 2000, J. Comput. Phys. 159, 139–171). It holds at any moment.
 */
import { chanceNumbers } from './chance-numbers'
import type { Candidate, Ground } from './plan-ground'
import { LEAST, NOWHERE, type Placing, PlanPlacing } from './plan-placing'

const MOST_TAKEN_OUT = 8
/** How often hours count nothing, so that none are left unused. */
const UNPRICED = 0.3
const TELL_AFTER_SWEPT = 20
const TELL_AFTER_TURNS = 2_000

export class PlanSearch extends PlanPlacing {
  private readonly random: () => number

  constructor(ground: Ground, seed = 1) {
    super(ground)
    this.random = chanceNumbers(seed)
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

function mostWorth({ choices }: Candidate): number {
  let most = 0
  for (const ofWeek of choices) most = Math.max(most, ofWeek.at(-1)?.worth ?? 0)
  return most
}
