/**
 * The joint belief about components that share signs: a weighted sum of products ("hypotheses").
 *
 * Within a hypothesis the components are independent. Looking for a sign and not seeing it keeps a product a
 * product; seeing it splits each product by which cause showed it first (nothing but the leak; cause 1;
 * cause 2 and not 1; …), which is exact (noisy-OR: Pearl 1988; the expansion: Heckerman 1989). Equal
 * hypotheses merge; above a limit the lightest are merged into one by their moments.
 */
import { applyTransition, type Strands, sum, type Transition } from './strands'

/** A component that can cause a sign, with P(seen | looked for, that component developing). */
export interface Cause {
  component: number
  detect: number
}

export type Found = 'sound' | 'developing' | 'failed'

/** The masses of one component's strands, summing to 1 together; hypotheses that agree about it share them. */
interface Masses {
  sound: Float64Array
  developing: Float64Array
  /** The last change that they went through, and the probability of what was told then. */
  change: number
  chance: number
}

interface Hypothesis {
  weight: number
  /** By component. */
  parts: Masses[]
}

/** Hypotheses kept; two libraries of ten weak points need fewer in nearly all histories. */
export const MAX_HYPOTHESES = 24
const SAME = 1e-10

export class JointBelief {
  private hypotheses: Hypothesis[]
  /** The logarithm of the probability of everything told so far, survival included. */
  logEvidence = 0
  private changes = 0

  /** @param lives the central strands of each component, whose masses are copied */
  constructor(
    lives: readonly Strands[],
    private readonly limit = MAX_HYPOTHESES,
  ) {
    this.hypotheses = [{ weight: 1, parts: lives.map(copyOf) }]
  }

  get size(): number {
    return this.hypotheses.length
  }

  /** The same belief, to go its own way. */
  copy(): JointBelief {
    const own = new JointBelief([], this.limit)
    const copies = new Map<Masses, Masses>()
    const ownOf = (masses: Masses) => {
      const known = copies.get(masses) ?? copyOf(masses)
      copies.set(masses, known)
      return known
    }
    own.hypotheses = this.hypotheses.map(({ weight, parts }) => ({ weight, parts: parts.map(ownOf) }))
    own.logEvidence = this.logEvidence
    return own
  }

  /** Moves one component a step, given that it does not fail: survival of others is evidence too. */
  move(component: number, transition: Transition): void {
    this.change(component, (masses) => live(masses, transition))
    this.renormalise()
  }

  /** Changes one component in every hypothesis, shared masses once; weights by the chance of what changed them. */
  private change(component: number, act: (masses: Masses) => number): void {
    const change = ++this.changes
    for (const h of this.hypotheses) {
      const masses = h.parts[component]!
      if (masses.change !== change) {
        masses.change = change
        masses.chance = act(masses)
      }
      h.weight *= masses.chance
    }
  }

  /** A sign was looked for and not seen. */
  absent(causes: readonly Cause[], leak = 0): void {
    if (leak > 0) for (const h of this.hypotheses) h.weight *= 1 - leak
    for (const { component, detect } of causes) this.change(component, (masses) => quench(masses, detect))
    this.renormalise()
  }

  /** A sign was seen: split by the cause that showed it first. */
  seen(causes: readonly Cause[], leak: number): void {
    const split: Hypothesis[] = []
    for (const h of this.hypotheses) {
      if (leak > 0) split.push({ ...share(h), weight: h.weight * leak })
      const rest = share(h)
      rest.weight *= 1 - leak
      for (const cause of causes) {
        const fired = this.firing(rest, cause)
        if (fired) split.push(fired)
        const silent = copyOf(rest.parts[cause.component]!)
        rest.weight *= quench(silent, cause.detect)
        rest.parts[cause.component] = silent
        if (!(rest.weight > 0)) break
      }
    }
    if (split.length === 0) {
      this.logEvidence = Number.NEGATIVE_INFINITY
      return
    }
    this.hypotheses = split
    this.renormalise()
    this.reduce()
  }

  private firing(h: Hypothesis, cause: Cause): Hypothesis | null {
    const masses = h.parts[cause.component]!
    const weight = h.weight * sum(masses.developing) * cause.detect
    if (!(weight > 0)) return null
    const fired = share(h)
    fired.weight = weight
    fired.parts[cause.component] = copyOf(masses)
    keepOnly(fired.parts[cause.component]!, 'developing')
    return fired
  }

  /**
   * A component's state was found: the hypotheses are weighed anew (the others are acquitted or blamed).
   *
   * @param failRates 1/δ of each strand, for `failed`: the density of failing now is D/δ
   * @returns false where no hypothesis gives the finding any mass; then nothing has changed but the
   *   component, which takes the found state
   */
  found(component: number, state: Found, failRates: Float64Array): boolean {
    const massOf = (h: Hypothesis) => massFound(h.parts[component]!, state, failRates)
    const possible = this.hypotheses.some((h) => massOf(h) * h.weight > 0)
    this.change(component, (masses) => {
      const mass = possible ? massFound(masses, state, failRates) : 1
      keepOnly(masses, state)
      return mass
    })
    this.renormalise()
    this.reduce()
    return possible
  }

  /** A component begins a new life: its old strands are forgotten (summed out). */
  restart(component: number, life: Strands): void {
    const begun = copyOf(life)
    for (const h of this.hypotheses) h.parts[component] = begun
    this.reduce()
  }

  /** The component's own strands under all hypotheses, written to the two arrays; their sum is 1. */
  marginal(component: number, sound: Float64Array, developing: Float64Array): void {
    sound.fill(0)
    developing.fill(0)
    for (const h of this.hypotheses) {
      const { sound: s, developing: d } = h.parts[component]!
      for (let i = 0; i < s.length; i++) {
        sound[i] = sound[i]! + h.weight * s[i]!
        developing[i] = developing[i]! + h.weight * d[i]!
      }
    }
  }

  /** P(developing) of one component under all hypotheses. */
  developing(component: number): number {
    let p = 0
    for (const h of this.hypotheses) p += h.weight * sum(h.parts[component]!.developing)
    return Math.min(p, 1)
  }

  /** The hypotheses by weight and, within each, P(developing) of every component. */
  table(): { weight: number; developing: Float64Array }[] {
    return this.hypotheses.map(({ weight, parts }) => {
      const developing = new Float64Array(parts.length)
      for (let c = 0; c < parts.length; c++) developing[c] = sum(parts[c]!.developing)
      return { weight, developing }
    })
  }

  private renormalise(): void {
    let total = 0
    for (const h of this.hypotheses) total += h.weight
    if (!(total > 0)) {
      // Nothing believed allows what was told: keep the shapes, forget the weights.
      this.logEvidence = Number.NEGATIVE_INFINITY
      for (const h of this.hypotheses) h.weight = 1 / this.hypotheses.length
      return
    }
    this.logEvidence += Math.log(total)
    for (const h of this.hypotheses) h.weight /= total
  }

  private reduce(): void {
    if (this.hypotheses.length === 1) return
    const distinct = mergeEqual(this.hypotheses.filter((h) => h.weight > 0)).sort(
      (a, b) => b.weight - a.weight,
    )
    this.hypotheses =
      distinct.length > this.limit
        ? [...distinct.slice(0, this.limit - 1), mean(distinct.slice(this.limit - 1))]
        : distinct
  }
}

/** Equal hypotheses become one: sorted by a projection of their masses, they stand side by side. */
function mergeEqual(hypotheses: Hypothesis[]): Hypothesis[] {
  const sorted = hypotheses.map((h) => ({ h, at: projection(h) })).sort((a, b) => a.at - b.at)
  const merged: { h: Hypothesis; at: number }[] = []
  for (const next of sorted) {
    let twin: Hypothesis | undefined
    for (let i = merged.length - 1; i >= 0 && next.at - merged[i]!.at < SAME; i--) {
      if (same(merged[i]!.h, next.h)) twin = merged[i]!.h
    }
    if (twin) twin.weight += next.h.weight
    else merged.push(next)
  }
  return merged.map(({ h }) => h)
}

/** A number that tells most unequal hypotheses apart: their masses, each times a fraction of its own. */
function projection({ parts }: Hypothesis): number {
  let at = 0
  let factor = 0
  for (const { sound, developing } of parts) {
    for (let i = 0; i < sound.length; i++) {
      factor = (factor + GOLDEN) % 1
      at += developing[i]! * factor + sound[i]! * (1 - factor)
    }
  }
  return at
}

const GOLDEN = 0.6180339887498949

function copyOf({ sound, developing }: Pick<Masses, 'sound' | 'developing'>): Masses {
  return { sound: sound.slice(), developing: developing.slice(), change: 0, chance: 1 }
}

/** Another hypothesis that agrees about every component, until one is replaced: branches of a split differ in few. */
function share(h: Hypothesis): Hypothesis {
  return { weight: h.weight, parts: h.parts.slice() }
}

function scale({ sound, developing }: Masses, factor: number): void {
  for (let i = 0; i < sound.length; i++) {
    sound[i] = sound[i]! * factor
    developing[i] = developing[i]! * factor
  }
}

/** The masses live through a step; returns the chance of that. */
function live(masses: Masses, transition: Transition): number {
  const alive = applyTransition(transition, masses.sound, masses.developing)
  if (alive > 0) scale(masses, 1 / alive)
  return alive
}

/** The component did not show the sign: its developing mass shrinks to 1 − detect. Returns the chance of that. */
function quench(masses: Masses, detect: number): number {
  const { developing } = masses
  const left = 1 - detect * sum(developing)
  for (let i = 0; i < developing.length; i++) developing[i] = developing[i]! * (1 - detect)
  if (left > 0) scale(masses, 1 / left)
  return left
}

function massFound({ sound, developing }: Masses, state: Found, failRates: Float64Array): number {
  if (state === 'sound') return sum(sound)
  if (state === 'developing') return sum(developing)
  let density = 0
  // A part without warning fails out of the sound state; its strands then differ in nothing but age.
  for (let i = 0; i < sound.length; i++)
    density += Number.isFinite(failRates[i]!) ? developing[i]! * failRates[i]! : sound[i]!
  return density
}

function keepOnly(masses: Masses, state: Found): void {
  const { sound, developing } = masses
  const [kept, gone] = state === 'sound' ? [sound, developing] : [developing, sound]
  // Without any mass in the found state the finding is believed all the same, at the ages held.
  if (sum(kept) === 0) kept.set(gone)
  gone.fill(0)
  const total = sum(kept)
  if (total > 0) scale(masses, 1 / total)
}

function same(a: Hypothesis, b: Hypothesis): boolean {
  return a.parts.every((masses, c) => isNear(masses, b.parts[c]!))
}

function isNear(a: Masses, b: Masses): boolean {
  if (a === b) return true
  for (let i = 0; i < a.sound.length; i++) {
    if (Math.abs(a.developing[i]! - b.developing[i]!) > SAME) return false
    if (Math.abs(a.sound[i]! - b.sound[i]!) > SAME) return false
  }
  return true
}

function mean(hypotheses: Hypothesis[]): Hypothesis {
  const total = hypotheses.reduce((a, h) => a + h.weight, 0)
  const parts = hypotheses[0]!.parts.map((first, c) => {
    const average = copyOf(first)
    for (const which of ['sound', 'developing'] as const) {
      average[which].fill(0)
      for (const { weight, parts } of hypotheses) {
        const masses = parts[c]![which]
        for (let i = 0; i < masses.length; i++) average[which][i]! += (weight / total) * masses[i]!
      }
    }
    return average
  })
  return { weight: total, parts }
}
