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

interface Hypothesis {
  weight: number
  /** By component: masses of its strands, summing to 1 together. */
  sound: Float64Array[]
  developing: Float64Array[]
}

/** Hypotheses kept; two libraries of ten weak points need fewer in nearly all histories. */
export const MAX_HYPOTHESES = 24
const SAME = 1e-10

export class JointBelief {
  private hypotheses: Hypothesis[]
  /** The logarithm of the probability of everything told so far, survival included. */
  logEvidence = 0

  /** @param lives the central strands of each component, whose masses are copied */
  constructor(
    lives: readonly Strands[],
    private readonly limit = MAX_HYPOTHESES,
  ) {
    this.hypotheses = [
      {
        weight: 1,
        sound: lives.map((l) => l.sound.slice()),
        developing: lives.map((l) => l.developing.slice()),
      },
    ]
  }

  get size(): number {
    return this.hypotheses.length
  }

  /** Moves one component a step, given that it does not fail: survival of others is evidence too. */
  move(component: number, transition: Transition): void {
    let total = 0
    for (const h of this.hypotheses) {
      const alive = applyTransition(transition, h.sound[component]!, h.developing[component]!)
      h.weight *= alive
      if (alive > 0) scale(h, component, 1 / alive)
      total += h.weight
    }
    this.renormalise(total)
  }

  /** A sign was looked for and not seen. */
  absent(causes: readonly Cause[], leak = 0): void {
    for (const h of this.hypotheses) {
      h.weight *= 1 - leak
      for (const cause of causes) quench(h, cause)
    }
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
        own(rest, cause.component)
        quench(rest, cause)
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
    this.hypotheses = this.hypotheses.map(copy)
  }

  private firing(h: Hypothesis, cause: Cause): Hypothesis | null {
    const developing = sum(h.developing[cause.component]!)
    const weight = h.weight * developing * cause.detect
    if (!(weight > 0)) return null
    const fired = share(h)
    fired.weight = weight
    fired.sound[cause.component] = new Float64Array(h.sound[cause.component]!.length)
    fired.developing[cause.component] = h.developing[cause.component]!.map((d) => d / developing)
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
    const factors = this.hypotheses.map((h) => massFound(h, component, state, failRates))
    const possible = factors.some((f, i) => f * this.hypotheses[i]!.weight > 0)
    this.hypotheses.forEach((h, i) => {
      if (possible) h.weight *= factors[i]!
      keepOnly(h, component, state)
    })
    this.renormalise()
    this.reduce()
    return possible
  }

  /** A component begins a new life: its old strands are forgotten (summed out). */
  restart(component: number, life: Strands): void {
    for (const h of this.hypotheses) {
      h.sound[component] = life.sound.slice()
      h.developing[component] = life.developing.slice()
    }
    this.reduce()
  }

  /** The component's own strands under all hypotheses, written to the two arrays; their sum is 1. */
  marginal(component: number, sound: Float64Array, developing: Float64Array): void {
    sound.fill(0)
    developing.fill(0)
    for (const h of this.hypotheses) {
      const s = h.sound[component]!
      const d = h.developing[component]!
      for (let i = 0; i < s.length; i++) {
        sound[i] = sound[i]! + h.weight * s[i]!
        developing[i] = developing[i]! + h.weight * d[i]!
      }
    }
  }

  /** P(developing) of one component under all hypotheses. */
  developing(component: number): number {
    let p = 0
    for (const h of this.hypotheses) p += h.weight * sum(h.developing[component]!)
    return Math.min(p, 1)
  }

  /** The hypotheses by weight and, within each, P(developing) of every component. */
  table(): { weight: number; developing: Float64Array }[] {
    return this.hypotheses.map((h) => ({
      weight: h.weight,
      developing: Float64Array.from(h.developing, sum),
    }))
  }

  private renormalise(total = this.hypotheses.reduce((a, h) => a + h.weight, 0)): void {
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
function projection(h: Hypothesis): number {
  return project(h.developing, 0) + project(h.sound, 0.5)
}

const GOLDEN = 0.6180339887498949

function project(masses: Float64Array[], start: number): number {
  let at = 0
  let factor = start
  for (const ofComponent of masses) {
    for (let i = 0; i < ofComponent.length; i++) {
      factor = (factor + GOLDEN) % 1
      at += ofComponent[i]! * factor
    }
  }
  return at
}

function copy(h: Hypothesis): Hypothesis {
  return {
    weight: h.weight,
    sound: h.sound.map((s) => s.slice()),
    developing: h.developing.map((d) => d.slice()),
  }
}

/** A copy that shares its masses with the original until one is replaced: the branches of a split differ in few. */
function share(h: Hypothesis): Hypothesis {
  return { weight: h.weight, sound: h.sound.slice(), developing: h.developing.slice() }
}

/** Stops sharing one component's masses. */
function own(h: Hypothesis, component: number): void {
  h.sound[component] = h.sound[component]!.slice()
  h.developing[component] = h.developing[component]!.slice()
}

function scale(h: Hypothesis, component: number, factor: number): void {
  const s = h.sound[component]!
  const d = h.developing[component]!
  for (let i = 0; i < s.length; i++) {
    s[i] = s[i]! * factor
    d[i] = d[i]! * factor
  }
}

/** The cause did not show the sign: its developing mass shrinks to 1 − detect. */
function quench(h: Hypothesis, { component, detect }: Cause): void {
  const d = h.developing[component]!
  const left = 1 - detect * sum(d)
  h.weight *= left
  for (let i = 0; i < d.length; i++) d[i] = d[i]! * (1 - detect)
  if (left > 0) scale(h, component, 1 / left)
}

function massFound(h: Hypothesis, component: number, state: Found, failRates: Float64Array): number {
  if (state === 'sound') return sum(h.sound[component]!)
  const d = h.developing[component]!
  if (state === 'developing') return sum(d)
  let density = 0
  // A part without warning fails out of the sound state; its strands then differ in nothing but age.
  for (let i = 0; i < d.length; i++)
    density += Number.isFinite(failRates[i]!) ? d[i]! * failRates[i]! : h.sound[component]![i]!
  return density
}

function keepOnly(h: Hypothesis, component: number, state: Found): void {
  const s = h.sound[component]!
  const d = h.developing[component]!
  const [kept, gone] = state === 'sound' ? [s, d] : [d, s]
  // Without any mass in the found state the finding is believed all the same, at the ages held.
  if (sum(kept) === 0) kept.set(gone)
  gone.fill(0)
  const total = sum(kept)
  if (total > 0) scale(h, component, 1 / total)
}

function same(a: Hypothesis, b: Hypothesis): boolean {
  return allNear(a.developing, b.developing) && allNear(a.sound, b.sound)
}

function allNear(x: Float64Array[], y: Float64Array[]): boolean {
  for (let c = 0; c < x.length; c++) {
    const xs = x[c]!
    const ys = y[c]!
    for (let i = 0; i < xs.length; i++) if (Math.abs(xs[i]! - ys[i]!) > SAME) return false
  }
  return true
}

function mean(hypotheses: Hypothesis[]): Hypothesis {
  const total = hypotheses.reduce((a, h) => a + h.weight, 0)
  const average = (pick: (h: Hypothesis) => Float64Array[]) =>
    pick(hypotheses[0]!).map((first, c) =>
      first.map((_, i) => hypotheses.reduce((a, h) => a + (h.weight / total) * pick(h)[c]![i]!, 0)),
    )
  return { weight: total, sound: average((h) => h.sound), developing: average((h) => h.developing) }
}
