/**
 * What is believed of one component: its present life at the central parameters (the marginal that moves by
 * itself between events) and at every parameter node.
 */
import type { Found } from '@/lib/model/joint-belief'
import {
  advance,
  aliveAfter,
  applyTransition,
  makeTransition,
  normalise,
  type Strands,
  selectStrands,
  shiftAges,
  shiftOdds,
  sum,
  type Transition,
} from '@/lib/model/strands'
import type { Day } from '@/lib/units/dates'
import type { Component } from './engine-plan'

/** How a life began. */
export interface LifeBeginning {
  how: 'original' | 'unknown' | 'renewed' | 'partial' | 'temporary'
  day: Day
  /** The component's clock then. */
  clock: number
  revision: string | null
}

/** Strands of less mass are not followed on. */
const NO_MASS = 1e-6
/** Strands are left out together, when so few are worth keeping. */
const PRUNE_BELOW = 0.85

/** Corrections of less than this (in log odds) wait for the next: the marginal keeps what it has. */
const NEGLIGIBLE_LOG_ODDS = 1e-3
/** … or of less than this in the chance of developing. */
const NEGLIGIBLE_SHIFT = 1e-6

export class ComponentBelief {
  /** The component's own marginal at central parameters; its masses sum to 1. */
  central!: Strands
  /** The nodes, lagging `behind` by the ageing since they were last needed. */
  private nodes!: Strands
  private behind = 0
  beginning!: LifeBeginning
  /** Recorded as failed and not yet renewed. */
  failed = false
  /** Whether the watch has begun: before it, what was survived must not weigh the nodes. */
  settled = false
  /** Clock at the last lasting renewal: a temporary fix does not reset the interval. */
  renewedAt: number | null = null
  /** Room for what the joint belief answers about this component. */
  asked!: { sound: Float64Array; developing: Float64Array }
  private transition!: Transition
  private scratch!: Transition

  constructor(
    readonly component: Component,
    readonly duty: number,
  ) {}

  /** Begins a life, as believed at the central parameters and at the nodes. */
  begin(central: Strands, nodes: Strands, beginning: LifeBeginning): void {
    this.central = central
    this.nodes = nodes
    normalise(central.sound, central.developing)
    normalise(nodes.sound, nodes.developing)
    const size = central.node.length
    this.transition = makeTransition(size)
    this.scratch = makeTransition(nodes.node.length)
    this.asked = { sound: new Float64Array(size), developing: new Float64Array(size) }
    this.behind = 0
    this.failed = false
    this.beginning = beginning
  }

  /**
   * Ages the marginal by `step` (effective units), given that the component does not fail.
   *
   * @returns the transition, for the hypotheses, and the developing mass that was there and that is new
   */
  age(step: number): { transition: Transition; old: number; fresh: number } {
    const { transition, central } = this
    if (this.failed) {
      changeNothing(transition)
      return { transition, old: 1, fresh: 0 }
    }
    advance(central, step, transition)
    // Where no part can have come this far, the age is right and the belief stays what it was.
    if (!(aliveAfter(transition, central.sound, central.developing) > 0)) changeNothing(transition)
    let old = 0
    let fresh = 0
    for (let i = 0; i < central.node.length; i++) {
      old += central.developing[i]! * transition.keep[i]!
      fresh += central.sound[i]! * transition.begin[i]!
    }
    applyTransition(transition, central.sound, central.developing)
    normalise(central.sound, central.developing)
    this.behind += step
    return { transition, old, fresh }
  }

  /** The age turns out to be another: what was believed of the part upstream has changed. */
  shiftAge(shift: number): void {
    if (this.failed) return
    shiftAges(this.central, shift)
    shiftAges(this.currentNodes(), shift)
  }

  /** P(developing) of the marginal. */
  get developing(): number {
    return this.failed ? 1 : sum(this.central.developing)
  }

  /**
   * The marginal takes the joint belief's value, and the nodes the same shift of odds (λ).
   *
   * @param joint sound and developing masses of the component under the joint belief
   * @param always also where the shift is negligible
   */
  correct(joint: { sound: Float64Array; developing: Float64Array }, always: boolean): void {
    if (this.failed) return
    const lambda =
      sum(joint.developing) / sum(joint.sound) / (sum(this.central.developing) / sum(this.central.sound))
    const usable = lambda > 0 && Number.isFinite(lambda)
    if (usable && !always) {
      const shift = Math.abs(sum(joint.developing) - sum(this.central.developing))
      if (shift < NEGLIGIBLE_SHIFT || Math.abs(Math.log(lambda)) < NEGLIGIBLE_LOG_ODDS) return
    }
    this.take(joint)
    if (usable) shiftOdds(this.currentNodes(), lambda)
  }

  /** The marginal takes the joint belief's value; the nodes are left alone. */
  take(joint: { sound: Float64Array; developing: Float64Array }): void {
    const { sound, developing } = this.central
    for (let i = 0; i < sound.length; i++) {
      sound[i] = joint.sound[i]!
      developing[i] = joint.developing[i]!
    }
  }

  /** The component's own finding: a certainty in every node, which also weighs the nodes. */
  find(state: Found): void {
    if (state === 'failed') {
      this.failed = true
      return
    }
    this.failed = false
    const { sound, developing } = this.currentNodes()
    const [kept, gone] = state === 'sound' ? [sound, developing] : [developing, sound]
    if (sum(kept) === 0) kept.set(gone)
    gone.fill(0)
    normalise(sound, developing)
  }

  /** The nodes, brought up to date; their masses sum to 1, a node's share being its weight. */
  currentNodes(): Strands {
    if (this.behind > 0) {
      const { nodes, scratch } = this
      advance(nodes, this.behind, scratch)
      // The same for the nodes.
      if (aliveAfter(scratch, nodes.sound, nodes.developing) > 0) {
        applyTransition(scratch, nodes.sound, nodes.developing)
        normalise(nodes.sound, nodes.developing)
        if (this.settled) this.prune()
      }
      this.behind = 0
    }
    return this.nodes
  }

  /** Leaves out the strands that have no mass left, once they are many. */
  private prune(): void {
    const { nodes } = this
    let kept = 0
    for (let i = 0; i < nodes.node.length; i++) if (nodes.sound[i]! + nodes.developing[i]! > NO_MASS) kept++
    if (kept > PRUNE_BELOW * nodes.node.length) return
    this.nodes = selectStrands(nodes, (i) => nodes.sound[i]! + nodes.developing[i]! > NO_MASS)
    normalise(this.nodes.sound, this.nodes.developing)
    this.scratch = makeTransition(kept)
  }

  /** Gives every node its first weight again: what came before the watch tells nothing of the parameters. */
  forgetWeights(): void {
    const { tables, node, sound, developing } = this.currentNodes()
    const mass = new Float64Array(tables.count)
    for (let i = 0; i < node.length; i++) mass[node[i]!] = mass[node[i]!]! + sound[i]! + developing[i]!
    for (let i = 0; i < node.length; i++) {
      const k = node[i]!
      const factor = mass[k]! > 0 ? tables.weight[k]! / mass[k]! : 0
      sound[i] = sound[i]! * factor
      developing[i] = developing[i]! * factor
    }
    normalise(sound, developing)
  }
}

function changeNothing(transition: Transition): void {
  transition.stay.fill(1)
  transition.keep.fill(1)
  transition.begin.fill(0)
}
