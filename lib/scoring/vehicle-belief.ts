/**
 * What is believed of one vehicle: a joint belief for each group of components that share signs, each
 * component's own marginal and nodes beside it, and what defects upstream did to the ages below.
 */
import { type Found, JointBelief } from '@/lib/model/joint-belief'
import { sum } from '@/lib/model/strands'
import { ComponentBelief } from './component-belief'
import type { EnginePlan } from './engine-plan'
import { Exposures } from './exposure'
import type { Finding } from './looks'

/** Readings of the three clocks at one moment. */
export interface ClockReading {
  distance: number
  hours: number
  time: number
}

/** A sighting's effect on one component, in log odds: what speaks for it. */
export interface Testimony {
  component: number
  sign: number
  day: number
  logOdds: number
}

/** A step advances an age by at least this share of its plain length. */
const LEAST_AGEING = 0.2
/** Longest stretch moved at once where something lies upstream, as a share of its shortest mean warning. */
const FINE_STEP = 0.5
const MOST_STEPS = 60

export class VehicleBelief {
  private readonly joint: JointBelief[]
  /** Index of a component within its group. */
  private readonly place: Int32Array
  readonly exposures: Exposures
  /** Age due to what lies upstream: its level when the present life began, and what of it is in the age. */
  private readonly extraAtStart: Float64Array
  private readonly extraInAge: Float64Array
  /** Room for the shifts of odds of one moment. */
  private readonly odds: Float64Array
  testimonies: Testimony[] = []
  /** Findings to which the belief gave no mass. */
  readonly contradictions: { component: number; day: number; found: Found }[] = []

  /** @param hears is told of every shift of a component's odds of developing, in place of the nodes */
  constructor(
    readonly plan: EnginePlan,
    readonly beliefs: ComponentBelief[],
    private clock: ClockReading,
    private readonly hears: ((component: number, odds: number) => void) | null = null,
  ) {
    this.place = new Int32Array(beliefs.length)
    for (const group of plan.groups) {
      group.forEach((component, i) => {
        this.place[component] = i
      })
    }
    this.joint = plan.groups.map((group) => new JointBelief(group.map((c) => beliefs[c]!.central)))
    this.exposures = new Exposures(plan, beliefs)
    this.extraAtStart = new Float64Array(beliefs.length)
    this.extraInAge = new Float64Array(beliefs.length)
    this.odds = new Float64Array(beliefs.length)
  }

  /** The same belief, to go its own way. */
  copy(): VehicleBelief {
    const own = new VehicleBelief(this.plan, ComponentBelief.copies(this.beliefs), this.clock, this.hears)
    this.joint.forEach((joint, group) => {
      own.joint[group] = joint.copy()
    })
    own.exposures.takeOver(this.exposures)
    own.extraAtStart.set(this.extraAtStart)
    own.extraInAge.set(this.extraInAge)
    own.testimonies = this.testimonies.slice()
    own.contradictions.push(...this.contradictions)
    return own
  }

  clockOf(component: number, reading: ClockReading = this.clock): number {
    return reading[this.beliefs[component]!.component.weakPoint.clock]
  }

  /** The joint belief about the group that a component is in, and its index there. */
  jointOf(component: number): { joint: JointBelief; index: number } {
    return { joint: this.joint[this.plan.groupOf[component]!]!, index: this.place[component]! }
  }

  /** Everything moves on to a later moment, in finer steps where exposure upstream has to be followed. */
  moveTo(reading: ClockReading): void {
    const start = this.clock
    const steps = this.exposures.any ? this.stepsTo(reading) : 1
    for (let i = 1; i < steps; i++) this.step(between(start, reading, i / steps))
    this.step(reading)
  }

  /** The clocks move on without any ageing (it was done otherwise). */
  skipTo(reading: ClockReading): void {
    this.clock = reading
  }

  private stepsTo(reading: ClockReading): number {
    let most = 1
    this.beliefs.forEach((belief, c) => {
      if (this.plan.linksFrom[c]!.length === 0) return
      const step = (this.clockOf(c, reading) - this.clockOf(c)) * belief.duty
      const failRate = belief.central.tables.failRate[0]!
      if (Number.isFinite(failRate)) most = Math.max(most, Math.ceil((step * failRate) / FINE_STEP))
    })
    return Math.min(most, MOST_STEPS)
  }

  private step(reading: ClockReading): void {
    for (const component of this.plan.order) {
      const belief = this.beliefs[component]!
      const { transition, old, fresh } = belief.age(
        this.ageing(component, this.plainStep(component, reading)),
      )
      const { joint, index } = this.jointOf(component)
      joint.move(index, transition)
      this.exposures.moved(component, old, fresh, (below) => this.plainStep(below, reading))
    }
    this.clock = reading
  }

  private plainStep(component: number, reading: ClockReading): number {
    return Math.max(this.clockOf(component, reading) - this.clockOf(component), 0)
  }

  /** Effective length of a step, after what lies upstream. */
  private ageing(component: number, plain: number): number {
    const aged = this.beliefs[component]!.duty * plain
    if (plain === 0 || !this.exposures.hasUpstream(component)) return aged
    const before = this.extraInAge[component]!
    return Math.max(aged + this.extraOfLife(component) - before, LEAST_AGEING * aged)
  }

  /** How much of a component's age is due to what lies upstream, in the present life. */
  agedByUpstream(component: number): number {
    return this.extraInAge[component]!
  }

  /** Extra age of the present life as believed now, which is noted as being in the age. */
  private extraOfLife(component: number): number {
    const level = this.exposures.extraAge(component)
    this.extraAtStart[component] = Math.min(this.extraAtStart[component]!, level)
    this.extraInAge[component] = level - this.extraAtStart[component]!
    return this.extraInAge[component]!
  }

  /**
   * What a changed belief says about the time that is past: ages below are put where they now turn out to be,
   * without living through the difference. (Measured against an exact filter of a linked pair: lived through
   * as ageing, the errors of the chances below are three times as large.)
   */
  private shiftAges(): void {
    for (const component of this.plan.order) {
      if (!this.exposures.hasUpstream(component)) continue
      const before = this.extraInAge[component]!
      const shift = this.extraOfLife(component) - before
      if (shift !== 0) this.beliefs[component]!.shiftAge(shift)
    }
  }

  /** Effective lengths, by component, of a stretch ahead over which nothing is done. @param steps where they are written */
  ageingAhead(
    ahead: ClockReading,
    steps: Float64Array = new Float64Array(this.beliefs.length),
  ): Float64Array {
    for (const component of this.plan.order) {
      const belief = this.beliefs[component]!
      const plain = ahead[belief.component.weakPoint.clock]
      let step = belief.duty * plain
      if (this.exposures.hasUpstream(component)) {
        const then = this.exposures.extraAgeAhead(component, plain, (c) => this.soundAfter(c, steps[c]!))
        const wanted = step + then - this.extraAtStart[component]! - this.extraInAge[component]!
        step = Math.max(wanted, LEAST_AGEING * step)
      }
      steps[component] = step
    }
    return steps
  }

  /** The same for each of several stretches, in one piece of memory. */
  ageingAheads(aheads: readonly ClockReading[]): Float64Array[] {
    const size = this.beliefs.length
    const all = new Float64Array(aheads.length * size)
    return aheads.map((ahead, i) => this.ageingAhead(ahead, all.subarray(i * size, (i + 1) * size)))
  }

  private soundAfter(component: number, step: number): number {
    const { central, failed } = this.beliefs[component]!
    if (failed) return 0
    let sound = 0
    for (let i = 0; i < central.node.length; i++) {
      const k = central.node[i]!
      const after = Math.exp(
        central.tables.shape[k]! * (Math.log(central.age[i]! + step) - central.tables.logScale[k]!),
      )
      sound += central.sound[i]! * Math.exp(central.onset[i]! - after)
    }
    return sound
  }

  /** Tells the joint beliefs what a look found, then carries it to the marginals and nodes. */
  look(findings: Finding[], day: number): void {
    for (const { sign, seen, share } of findings) {
      const placed = this.plan.signs[sign]!
      if (placed.causes.length === 0) continue
      const { joint } = this.jointOf(placed.causes[0]!.component)
      const causes = placed.causes.map((c) => ({
        component: this.place[c.component]!,
        detect: c.detect * share,
      }))
      if (!seen) {
        joint.absent(causes)
        continue
      }
      const before = causes.map((c) => joint.developing(c.component))
      joint.seen(causes, placed.leak)
      placed.causes.forEach((cause, i) => {
        const logOdds = logit(joint.developing(causes[i]!.component)) - logit(before[i]!)
        this.testimonies.push({ component: cause.component, sign, day, logOdds })
      })
    }
    this.correct(false)
  }

  /** A component was found in a state; the others of its group are acquitted or blamed. */
  found(component: number, state: Found, day: number): void {
    const belief = this.beliefs[component]!
    const { joint, index } = this.jointOf(component)
    const { central } = belief
    const failRates = Float64Array.from(central.node, (k) => central.tables.failRate[k]!)
    if (!joint.found(index, state, failRates)) this.contradictions.push({ component, day, found: state })
    joint.marginal(index, belief.asked.sound, belief.asked.developing)
    belief.take(belief.asked)
    belief.find(state)
    // Whatever was seen was then something else.
    if (state === 'sound') this.testimonies = this.testimonies.filter((t) => t.component !== component)
  }

  /** The joint belief takes over a component's new life. */
  restarted(component: number): void {
    const { joint, index } = this.jointOf(component)
    joint.restart(index, this.beliefs[component]!.central)
    this.extraAtStart[component] = this.exposures.extraAge(component)
    this.extraInAge[component] = 0
  }

  /** Carries the joint beliefs to every component's marginal and nodes. */
  correct(always: boolean): void {
    this.beliefs.forEach((belief, component) => {
      const { joint, index } = this.jointOf(component)
      joint.marginal(index, belief.asked.sound, belief.asked.developing)
      const odds = belief.correct(belief.asked, always)
      this.odds[component] = odds
      if (odds !== 1) this.hears?.(component, odds)
    })
    if (!this.hears) ComponentBelief.weigh(this.beliefs, this.odds)
    if (this.exposures.any) this.shiftAges()
  }

  /** P(developing or failed) of a component under the joint belief. */
  developing(component: number): number {
    return this.beliefs[component]!.failed ? 1 : sum(this.beliefs[component]!.central.developing)
  }
}

function between(from: ClockReading, to: ClockReading, share: number): ClockReading {
  return {
    distance: from.distance + share * (to.distance - from.distance),
    hours: from.hours + share * (to.hours - from.hours),
    time: from.time + share * (to.time - from.time),
  }
}

function logit(p: number): number {
  const inside = Math.min(Math.max(p, 1e-12), 1 - 1e-12)
  return Math.log(inside / (1 - inside))
}
