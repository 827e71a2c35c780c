/** One round of planning: a plan found and improved, and a bound brought down to it, each step better than the last. */
import type { Highs } from 'highs'
import { HOURS_SLACK, type PlanVisit } from '../plan-value'
import { type Bound, boundOf, type Forced } from './plan-bound'
import { type Ground, moneyOf, slotOf, weekOf } from './plan-ground'
import type { Placing } from './plan-placing'
import { PlanSearch } from './plan-search'
import {
  type Column,
  columnsOf,
  mostMoney,
  mostStops,
  type Programme,
  type SolverLimits,
  worthTrying,
} from './plan-solver'

export interface PlanEffort {
  /** Handfuls of visits that are taken out and put back, in each of two turns; fewer where there are few vehicles. */
  rounds: number
  /** Nodes that the solver may branch on, and seconds that it may take, each time it is asked. */
  nodes: number
  seconds: number
}

export interface WorkTerms {
  highs: Highs | null
  effort: PlanEffort
  goOn: () => boolean
  clock: (() => number) | null
}

/** A plan this near to its bound, of the bound, is as good as any. */
const NEAR_ENOUGH = 1e-5
/** More rounds than this for each vehicle find nothing new. */
const ROUNDS_EACH = 1_000
const NO_LIMIT = 1e9
/** Of the solver's time, the share for weeks: prices of hours bound that nearly as well. */
const SHARE_BY_WEEK = 0.2
/** With so many columns a programme is solved bay by bay, or at all. */
const MOST_BY_BAY = 12_000
const MOST_BY_WEEK = 60_000

export class PlanWork {
  readonly search: PlanSearch
  private best: Placing
  /** No plan that keeps the same pins, and has as many stop jobs as can be, gains more money. */
  bound = Number.POSITIVE_INFINITY
  hourPrices: Float64Array
  private stopsProven = false

  constructor(
    readonly ground: Ground,
    private readonly terms: WorkTerms,
  ) {
    this.search = new PlanSearch(ground)
    this.best = this.search.placing()
    this.hourPrices = new Float64Array(ground.weeks)
  }

  /** Money of the plan as it is. */
  get money(): number {
    return this.placed().reduce((sum, { money }) => sum + money, 0)
  }

  placed(): { candidate: number; slot: number; money: number; stops: number }[] {
    const { ground } = this
    const { at, choice } = this.best
    return ground.candidates.flatMap((candidate, c) => {
      const slot = at[c]!
      if (slot < 0) return []
      const chosen = candidate.choices[weekOf(ground.bays, slot)]![choice[c]!]!
      return [{ candidate: c, slot, money: moneyOf(ground, candidate, chosen), stops: chosen.stops }]
    })
  }

  chosen(): { candidate: number; slot: number; choice: number }[] {
    return this.placed().map(({ candidate, slot }) => ({
      candidate,
      slot,
      choice: this.best.choice[candidate]!,
    }))
  }

  /** @param start visits that are taken over as far as they hold */
  begin(start: readonly PlanVisit[]): void {
    const { candidates, bays } = this.ground
    const of = new Map(candidates.map(({ unit }, c) => [unit, c]))
    for (const { unit, week, bay, hours } of start) {
      const c = of.get(unit)
      if (c !== undefined && week < this.ground.weeks && bay < bays)
        this.search.putWithin(c, slotOf(bays, week, bay), hours)
    }
    this.search.fill()
    this.best = this.search.placing()
  }

  *exchange(): Generator<void, void> {
    for (const _ of this.search.exchange(this.terms.goOn)) {
      this.best = this.search.placing()
      yield
    }
    this.best = this.search.placing()
  }

  *shuffle(): Generator<void, void> {
    this.search.hourPrices = this.hourPrices
    const rounds = Math.min(this.terms.effort.rounds, ROUNDS_EACH * this.ground.candidates.length)
    const turns = this.search.shuffle(rounds, this.terms.goOn)
    for (let turn = turns.next(); ; turn = turns.next()) {
      this.best = turn.value
      if (turn.done) break
      yield
    }
    yield* this.exchange()
  }

  nearEnough(): boolean {
    return this.bound - this.money <= NEAR_ENOUGH * Math.max(1, Math.abs(this.money))
  }

  /** Prices of hours, and the bound that follows from them. */
  price(): void {
    this.take(boundOf(this.comparable(), this.forced(), this.money))
  }

  /** The bound with each week's bays together, by the solver; its weeks are tried as they are. */
  solveByWeek(): void {
    const { highs } = this.terms
    const forced = this.forced()
    const ground = this.comparable()
    const columns = this.tried(columnsOf(ground, 'weeks', forced), forced)
    if (!highs || columns.length > MOST_BY_WEEK) return
    const hours = Array.from({ length: ground.weeks }, (_, week) =>
      ground.free
        .subarray(week * ground.bays, (week + 1) * ground.bays)
        .reduce((sum, each) => sum + each + HOURS_SLACK, 0),
    )
    const programme = this.programme(columns, hours, forced)
    const solved = mostMoney(highs, programme, this.limits(SHARE_BY_WEEK))
    this.lower(solved.bound)
    if (solved.ok) this.startFrom(solved.chosen, 'weeks')
  }

  /** The plan itself, by the solver, where it is small enough: stop jobs first, then money. */
  solveByBay(): void {
    const { highs } = this.terms
    if (!highs) return
    this.proveStops(highs)
    const forced = this.forced()
    const columns = this.tried(columnsOf(this.comparable(), 'bays', forced), forced)
    if (columns.length > MOST_BY_BAY) return
    const solved = mostMoney(highs, this.programme(columns, [...this.ground.free], forced), this.limits())
    this.lower(solved.bound)
    if (solved.ok) this.startFrom(solved.chosen, 'bays')
  }

  /** Where stop jobs are left over: whether more of them can be planned at all. */
  private proveStops(highs: Highs): void {
    const forced = this.forced()
    if (this.allStopsPlaced()) {
      this.stopsProven = true
      return
    }
    const columns = columnsOf(this.comparable(), 'bays', forced).filter(
      ({ choice, candidate }) => choice.stops > 0 || forced.there[candidate],
    )
    if (columns.length > MOST_BY_BAY) return
    const solved = mostStops(highs, this.programme(columns, [...this.ground.free], forced, 0), this.limits())
    if (solved.ok && solved.value > this.stops()) this.startFrom(solved.chosen, 'bays')
    this.stopsProven = solved.bound < this.stops() + 1 - 1e-6
  }

  private stops(): number {
    return this.placed().reduce((sum, { stops }) => sum + stops, 0)
  }

  private allStopsPlaced(): boolean {
    return this.stops() === this.ground.candidates.reduce((sum, { stops }) => sum + stops, 0)
  }

  /** Pins that are kept must be kept; stop jobs, where all of them are planned, must all be planned. */
  private forced(): Forced {
    const { candidates } = this.ground
    const all = this.allStopsPlaced()
    const placed = new Set(this.placed().map(({ candidate }) => candidate))
    const allStops = candidates.map(({ stops }) => all && stops > 0)
    const there = candidates.map(({ pinned }, c) => placed.has(c) && (pinned || allStops[c]!))
    return { there, allStops }
  }

  /** The ground on which plans are compared: without vehicles whose pin could not be kept. */
  private comparable(): Ground {
    const placed = new Set(this.placed().map(({ candidate }) => candidate))
    const candidates = this.ground.candidates.map((candidate, c) =>
      candidate.pinned && !placed.has(c)
        ? { ...candidate, stops: 0, choices: candidate.choices.map(() => []) }
        : candidate,
    )
    return { ...this.ground, candidates }
  }

  private tried(columns: Column[], forced: Forced): Column[] {
    const proven = this.allStopsPlaced() || this.stopsProven
    const bound = { bound: this.bound, hourPrices: this.hourPrices }
    // What is dropped can be in no plan with as many stop jobs and more money; with more stop jobs it might be.
    return proven && Number.isFinite(this.bound) ? worthTrying(columns, bound, forced, this.money) : columns
  }

  private programme(columns: Column[], hours: number[], forced: Forced, stops = this.stops()): Programme {
    const leastStops = this.allStopsPlaced() ? 0 : stops
    return { columns, hours, forced, leastStops, candidates: this.ground.candidates }
  }

  /** @param share of the solver's time */
  private limits(share = 1): SolverLimits {
    const { effort, goOn, clock } = this.terms
    const seconds = effort.seconds * share
    if (!clock) return { nodes: effort.nodes, seconds, goOn }
    const end = clock() + seconds
    return { nodes: effort.nodes, seconds: NO_LIMIT, goOn: () => goOn() && clock() < end }
  }

  private take({ bound, hourPrices }: Bound): void {
    if (bound < this.bound) {
      this.hourPrices = hourPrices
      this.lower(bound)
    }
  }

  /** A bound below what is reached is rounding, or says that nothing better was left among the columns tried. */
  private lower(bound: number): void {
    this.bound = Math.min(this.bound, Math.max(bound, this.money))
  }

  /** Tries a solver's plan, mended where it does not fit to the last second, and keeps the better one. */
  private startFrom(chosen: readonly Column[], apart: 'weeks' | 'bays'): void {
    const { search } = this
    const before = search.total
    const largestFirst = [...chosen].sort((a, b) => b.choice.hours - a.choice.hours)
    search.restore({ at: this.best.at.map(() => -1), choice: this.best.choice })
    for (const { candidate, place, index, week } of largestFirst) {
      if (apart === 'weeks') search.putInto(candidate, week)
      else search.putAt(candidate, place, index)
    }
    search.fill()
    for (const _ of search.exchange(this.terms.goOn));
    if (search.total > before) this.best = search.placing()
    else search.restore(this.best)
  }
}
