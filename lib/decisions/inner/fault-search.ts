/** All states of knowledge on the way to one fault, and what is best to do in each (dynamic programming). */
import {
  type FaultCause,
  type FaultLook,
  type FaultResult,
  type FaultStep,
  type FaultStop,
  seenBy,
} from '../fault-question'

export interface FaultSearchInput {
  causes: readonly FaultCause[]
  /** Those that are searched over. */
  searched: readonly number[]
  /** Those that come after all of these, in this order. */
  others: readonly number[]
  looks: readonly FaultLook[]
  fallback: number
  results: readonly FaultResult[]
}

type Action = { kind: 'look' | 'renew'; index: number }

/** What is known: which of the searched were replaced, and of each look 0 (not made), 1 (not seen) or 2 (seen). */
interface State {
  replaced: number
  outcomes: number[]
}

/** Below this share of the whole, nothing is left to find. */
const NOTHING_LEFT = 1e-12

export class FaultSearch {
  private readonly best = new Map<number, { cost: number; action: Action | null }>()
  private readonly weights = new Map<number, Float64Array>()
  /** Of each cause, its place among those searched; −1 where it comes after. */
  private readonly placeOf: number[]
  /** By look and cause, P(seen). */
  private readonly seen: number[][]
  private readonly start: State
  /** Others that were replaced already. */
  private readonly othersTried: Set<number>
  /** Every cause that was replaced already. */
  readonly tried: Set<number>

  constructor(private readonly input: FaultSearchInput) {
    const { causes, searched, looks, results } = input
    this.seen = looks.map((look) => causes.map((_, i) => seenBy(look, i)))
    this.placeOf = causes.map((_, i) => searched.indexOf(i))
    this.tried = new Set(results.flatMap((result) => ('renewed' in result ? [result.renewed] : [])))
    this.othersTried = new Set(input.others.filter((i) => this.tried.has(i)))
    const replaced = searched.reduce((set, cause, i) => set | (this.tried.has(cause) ? 1 << i : 0), 0)
    const outcomes = looks.map(({ look }) => {
      const told = results.findLast((result) => 'look' in result && result.look === look)
      return told && 'seen' in told ? (told.seen ? 2 : 1) : 0
    })
    this.start = { replaced, outcomes }
  }

  /** What finding the fault costs on the mean, from what is known. */
  get expectedCost(): number {
    const left = this.leftIn(this.start)
    return left > 0 ? this.costFrom(this.start) / left : 0
  }

  /** P(each cause is the fault, still), given the results; what was replaced badly counts with it. */
  chances(): number[] {
    const weights = this.input.causes.map((_, i) => this.weight(i, this.start))
    const total = weights.reduce((a, b) => a + b, 0)
    return weights.map((each) => (total > 0 ? each / total : 0))
  }

  /** What to do as long as no look shows anything and no replacement ends it, to its end. */
  path(spendingLimit: number): { steps: FaultStep[]; stop: FaultStop | null } {
    const steps: FaultStep[] = []
    let stop: FaultStop | null = null
    let spent = 0
    let state = this.start
    const add = (step: FaultStep) => {
      if (!stop && spent + step.cost > spendingLimit) stop = { after: steps.length, why: 'limit' }
      steps.push(step)
      spent += step.cost
    }
    while (this.leftIn(state) > NOTHING_LEFT) {
      this.costFrom(state)
      const action = this.best.get(this.keyOf(state))?.action
      if (!action) {
        this.stepsOfOthers(state).forEach(add)
        break
      }
      if (!stop && steps.length > 0 && this.costsMoreThanJob(state))
        stop = { after: steps.length, why: 'likeliest-job' }
      add(this.stepOf(action, state))
      state = this.after(action, state, 1)
    }
    return { steps, stop }
  }

  /** Whether what going on costs beside the right job, on the mean, is more than the likeliest job. */
  private costsMoreThanJob(state: State): boolean {
    const { causes } = this.input
    const left = this.leftIn(state)
    const open = causes.flatMap((cause, i) => {
      const weight = this.isReplaced(i, state) ? 0 : this.weight(i, state)
      return weight > 0 ? [{ weight, cost: cause.cost }] : []
    })
    const likeliest = open.reduce((a, b) => (b.weight > a.weight ? b : a), { weight: 0, cost: Infinity })
    const needed = open.reduce((sum, { weight, cost }) => sum + weight * cost, 0)
    return (this.costFrom(state) - needed) / left > likeliest.cost
  }

  private stepOf(action: Action, state: State): FaultStep {
    const { causes, looks, searched } = this.input
    const left = this.leftIn(state)
    const expectedCostFromHere = this.costFrom(state) / left
    if (action.kind === 'look') {
      const { look } = looks[action.index]!
      const cost = this.priceOf(action.index, state)
      const seen = this.leftIn(this.after(action, state, 2))
      return { look, cost, chanceResolved: seen / left, expectedCostFromHere }
    }
    const cause = searched[action.index]!
    const { weakPoint, position, cost, success } = causes[cause]!
    const chanceResolved = (this.weight(cause, state) * success) / left
    return { renew: { weakPoint, position }, cost, chanceResolved, expectedCostFromHere }
  }

  private stepsOfOthers(state: State): FaultStep[] {
    let left = this.leftIn(state)
    let cost = this.costOfOthers(state)
    return this.othersLeft().map((i) => {
      const cause = this.input.causes[i]!
      const { weakPoint, position, success } = cause
      const resolved = this.weight(i, state) * success
      const step = {
        renew: { weakPoint, position },
        cost: cause.cost,
        chanceResolved: left > 0 ? resolved / left : 0,
        expectedCostFromHere: left > 0 ? cost / left : 0,
      }
      cost -= cause.cost * left
      left -= resolved
      return step
    })
  }

  /** Least expected cost from a state on, times P(the state). */
  private costFrom(state: State): number {
    const key = this.keyOf(state)
    const known = this.best.get(key)
    if (known) return known.cost
    const found = this.bestIn(state)
    this.best.set(key, found)
    return found.cost
  }

  private bestIn(state: State): { cost: number; action: Action | null } {
    const { causes, looks, searched } = this.input
    const left = this.leftIn(state)
    if (!(left > NOTHING_LEFT)) return { cost: 0, action: null }
    let best: { cost: number; action: Action | null } = { cost: Number.POSITIVE_INFINITY, action: null }
    const offer = (cost: number, action: Action) => {
      if (cost < best.cost) best = { cost, action }
    }
    searched.forEach((cause, index) => {
      if (state.replaced & (1 << index) || !(this.weight(cause, state) > 0)) return
      const action: Action = { kind: 'renew', index }
      offer(causes[cause]!.cost * left + this.costFrom(this.after(action, state, 1)), action)
    })
    // With nothing left to replace, a look changes nothing.
    if (!best.action) return { cost: this.costOfOthers(state), action: null }
    looks.forEach((_, index) => {
      if (state.outcomes[index] !== 0) return
      const action: Action = { kind: 'look', index }
      const cost = this.priceOf(index, state)
      if (cost * left >= best.cost) return
      const after = this.costFrom(this.after(action, state, 1)) + this.costFrom(this.after(action, state, 2))
      offer(cost * left + after, action)
    })
    return best
  }

  private priceOf(look: number, { outcomes }: State): number {
    const { looks } = this.input
    const { cost, atOnce = null } = looks[look]!
    const isPaid = atOnce !== null && looks.some((other, l) => other.atOnce === atOnce && outcomes[l] !== 0)
    return isPaid ? 0 : cost
  }

  private costOfOthers(state: State): number {
    let left = this.leftIn(state)
    let cost = 0
    for (const i of this.othersLeft()) {
      const cause = this.input.causes[i]!
      cost += cause.cost * left
      left -= this.weight(i, state) * cause.success
    }
    return cost + this.input.fallback * Math.max(left, 0)
  }

  private othersLeft(): number[] {
    return this.input.others.filter((i) => !this.othersTried.has(i))
  }

  /** @param outcome of a look: 1 not seen, 2 seen */
  private after({ kind, index }: Action, { replaced, outcomes }: State, outcome: 1 | 2): State {
    if (kind === 'renew') return { replaced: replaced | (1 << index), outcomes }
    return { replaced, outcomes: outcomes.map((each, l) => (l === index ? outcome : each)) }
  }

  private leftIn(state: State): number {
    const { causes } = this.input
    const weights = this.weightsAfter(state.outcomes)
    let left = 0
    for (let i = 0; i < causes.length; i++)
      left += this.isReplaced(i, state) ? weights[i]! * (1 - causes[i]!.success) : weights[i]!
    return left
  }

  /** P(this is the fault, all outcomes came, and it was not ended by replacing it). */
  private weight(cause: number, state: State): number {
    const weight = this.weightsAfter(state.outcomes)[cause]!
    return this.isReplaced(cause, state) ? weight * (1 - this.input.causes[cause]!.success) : weight
  }

  /** By cause, P(it is the fault and all outcomes came): few outcomes meet many sets of what was replaced. */
  private weightsAfter(outcomes: readonly number[]): Float64Array {
    const key = keyOf(0, outcomes)
    const known = this.weights.get(key)
    if (known) return known
    const weights = Float64Array.from(this.input.causes, ({ chance }) => chance)
    outcomes.forEach((outcome, l) => {
      if (outcome === 0) return
      this.seen[l]!.forEach((seen, i) => {
        weights[i] = weights[i]! * (outcome === 2 ? seen : 1 - seen)
      })
    })
    this.weights.set(key, weights)
    return weights
  }

  private isReplaced(cause: number, { replaced }: State): boolean {
    const place = this.placeOf[cause]!
    return place < 0 ? this.othersTried.has(cause) : (replaced & (1 << place)) !== 0
  }

  private keyOf({ replaced, outcomes }: State): number {
    return keyOf(replaced, outcomes)
  }
}

/** One number a state: what was replaced, then each outcome as a digit to the base of three. */
function keyOf(replaced: number, outcomes: readonly number[]): number {
  let key = replaced
  for (const outcome of outcomes) key = key * 3 + outcome
  return key
}
