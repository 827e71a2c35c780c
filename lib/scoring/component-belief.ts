/**
 * What is believed of one component: its present life at the central parameters (the marginal that moves by
 * itself between events) and at every parameter node.
 */
import type { Found } from '@/lib/model/joint-belief'
import {
  advance,
  aliveAfter,
  applyTransition,
  copyStrands,
  makeMasses,
  makeTransition,
  normalise,
  type Strands,
  shiftAges,
  sum,
  type Transition,
} from '@/lib/model/strands'
import type { Day } from '@/lib/units/dates'
import type { Component } from './engine-plan'
import { giveFirstWeights, type NodeLives } from './node-lives'

/** How a life began. */
export interface LifeBeginning {
  how: 'original' | 'unknown' | 'renewed' | 'partial' | 'temporary'
  day: Day
  /** The component's clock then. */
  clock: number
  revision: string | null
}

/** Corrections of less than this (in log odds) wait for the next: the marginal keeps what it has. */
const NEGLIGIBLE_LOG_ODDS = 1e-3
/** … or of less than this in the chance of developing. */
const NEGLIGIBLE_SHIFT = 1e-6

export class ComponentBelief {
  /** The component's own marginal at central parameters; its masses sum to 1. */
  central!: Strands
  private lives!: NodeLives
  /** Ageing that the nodes have not yet been through. */
  private behind = 0
  beginning!: LifeBeginning
  /** Recorded as failed and not yet renewed. */
  failed = false
  private settled = false
  /** Clock at the last lasting renewal: a temporary fix does not reset the interval. */
  renewedAt: number | null = null
  /** Room for what the joint belief answers about this component. */
  asked!: { sound: Float64Array; developing: Float64Array }
  private transition!: Transition

  constructor(
    readonly component: Component,
    readonly duty: number,
  ) {}

  /**
   * Begins a life, as believed at the central parameters and at the nodes (which positions that begin alike may
   * share).
   */
  begin(central: Strands, lives: NodeLives, beginning: LifeBeginning): void {
    if (this.lives) this.lives.sharers--
    this.central = central
    this.lives = lives
    lives.sharers++
    lives.settled = this.settled
    this.behind = 0
    normalise(central.sound, central.developing)
    const size = central.node.length
    this.transition = makeTransition(size)
    this.asked = makeMasses(size)
    this.failed = false
    this.beginning = beginning
  }

  /** The same beliefs, to go their own way; those that share a life still do. */
  static copies(beliefs: readonly ComponentBelief[]): ComponentBelief[] {
    const copies = new Map<NodeLives, NodeLives>()
    return beliefs.map((belief) => {
      const own = new ComponentBelief(belief.component, belief.duty)
      const lives = copies.get(belief.lives) ?? belief.lives.copy()
      copies.set(belief.lives, lives)
      return Object.assign(own, belief, { central: copyStrands(belief.central), lives })
    })
  }

  /** The watch has begun: from now on what is survived weighs the nodes. */
  settle(): void {
    this.settled = true
    this.lives.settled = true
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
    shiftAges(this.ownLives().current(), shift)
  }

  /** P(developing) of the marginal. */
  get developing(): number {
    return this.failed ? 1 : sum(this.central.developing)
  }

  /**
   * The marginal takes the joint belief's value.
   *
   * @param joint sound and developing masses of the component under the joint belief
   * @param always also where the shift is negligible
   * @returns the shift of odds (λ) that the nodes are still to be told; 1 where there is none
   */
  correct(joint: { sound: Float64Array; developing: Float64Array }, always: boolean): number {
    if (this.failed) return 1
    const lambda =
      sum(joint.developing) / sum(joint.sound) / (sum(this.central.developing) / sum(this.central.sound))
    const usable = lambda > 0 && Number.isFinite(lambda)
    if (usable && !always) {
      const shift = Math.abs(sum(joint.developing) - sum(this.central.developing))
      if (shift < NEGLIGIBLE_SHIFT || Math.abs(Math.log(lambda)) < NEGLIGIBLE_LOG_ODDS) return 1
    }
    this.take(joint)
    return usable ? lambda : 1
  }

  /**
   * The nodes of all components are told of their shifts of odds, those that share a life and are told the same
   * together.
   *
   * @param odds λ by component, which are 1 afterwards
   */
  static weigh(beliefs: readonly ComponentBelief[], odds: Float64Array): void {
    for (let i = 0; i < beliefs.length; i++) {
      const lambda = odds[i]!
      if (lambda === 1) continue
      const { lives, behind } = beliefs[i]!
      const told = lives.sharers > 1 ? ComponentBelief.toldAlike(beliefs, odds, i) : [i]
      const theirs = told.length < lives.sharers ? lives.split(told.length) : lives
      theirs.age(behind)
      theirs.weigh(lambda)
      for (const j of told) {
        beliefs[j]!.lives = theirs
        beliefs[j]!.behind = 0
        odds[j] = 1
      }
    }
  }

  /** Those from `first` on that share its life and are to be told the same. */
  private static toldAlike(beliefs: readonly ComponentBelief[], odds: Float64Array, first: number): number[] {
    const { lives, behind } = beliefs[first]!
    const told: number[] = []
    for (let i = first; i < beliefs.length; i++) {
      const other = beliefs[i]!
      if (odds[i] === odds[first] && other.lives === lives && other.behind === behind) told.push(i)
    }
    return told
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
    const { sound, developing } = this.ownLives().current()
    const [kept, gone] = state === 'sound' ? [sound, developing] : [developing, sound]
    if (sum(kept) === 0) kept.set(gone)
    gone.fill(0)
    normalise(sound, developing)
    this.lives.wasFound()
  }

  /** The nodes, brought up to date; their masses sum to 1, a node's share being its weight. To be read only. */
  currentNodes(): Strands {
    return this.behind > 0 ? this.ownLives().current() : this.lives.current()
  }

  /** The nodes of this component alone, brought up to date. */
  private ownLives(): NodeLives {
    if (this.lives.sharers > 1) this.lives = this.lives.split(1)
    this.lives.age(this.behind)
    this.behind = 0
    return this.lives
  }

  /** Gives every node its first weight again: what came before the watch tells nothing of the parameters. */
  forgetWeights(): void {
    giveFirstWeights(this.ownLives().current())
  }
}

function changeNothing(transition: Transition): void {
  transition.stay.fill(1)
  transition.keep.fill(1)
  transition.begin.fill(0)
}
