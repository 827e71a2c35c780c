/**
 * What developing defects upstream do to the ages below them.
 *
 * A defect of strength k ages the part below k times as fast while it develops. Since that is not known but
 * believed, a link carries E, the expected distance since the onset given that the upstream develops now (in
 * the clock of the part below), and C, what past and confirmed defects did. The age due to the link is
 * (k − 1)·duty·(C + P(developing)·E): it shrinks when the belief falls.
 */
import type { Found } from '@/lib/model/joint-belief'
import type { ComponentBelief } from './component-belief'
import type { EnginePlan, Link } from './engine-plan'

interface Exposure {
  link: Link
  sinceOnset: number
  confirmed: number
}

/**
 * E after a step of length `step`: the developing mass that was there has come that much farther, the mass
 * that is new began half-way on average.
 */
export function expectedSinceOnset(before: number, step: number, old: number, fresh: number): number {
  return old + fresh > 0 ? (old * (before + step) + (fresh * step) / 2) / (old + fresh) : 0
}

export class Exposures {
  private readonly from: Exposure[][]
  private readonly to: Exposure[][]
  /** Whether anything lies below anything. */
  readonly any: boolean

  constructor(
    plan: EnginePlan,
    private readonly beliefs: ComponentBelief[],
  ) {
    this.from = plan.linksFrom.map((links) => links.map((link) => ({ link, sinceOnset: 0, confirmed: 0 })))
    const all = this.from.flat()
    this.any = all.length > 0
    this.to = plan.linksTo.map((links) => links.flatMap((link) => all.find((x) => x.link === link) ?? []))
  }

  /** All as it is in others of the same plan. */
  takeOver(others: Exposures): void {
    this.from.forEach((exposures, c) => {
      exposures.forEach((exposure, i) => {
        Object.assign(exposure, others.from[c]![i])
      })
    })
  }

  /** The component was moved: E of what lies below it grows. */
  moved(component: number, old: number, fresh: number, plainStep: (component: number) => number): void {
    for (const x of this.from[component]!)
      x.sinceOnset = expectedSinceOnset(x.sinceOnset, plainStep(x.link.to), old, fresh)
  }

  /** Extra age of a component due to everything above it, as believed now. */
  extraAge(component: number): number {
    return this.extra(component, (x) => x.confirmed + this.beliefs[x.link.from]!.developing * x.sinceOnset)
  }

  /**
   * Extra age of a component at a horizon to which the upstream goes on developing.
   *
   * @param soundThen P(sound then) of an upstream component if nothing is done: a failed one counts as developing
   */
  extraAgeAhead(component: number, plainStep: number, soundThen: (component: number) => number): number {
    return this.extra(component, (x) => {
      const now = this.beliefs[x.link.from]!.developing
      const then = Math.max(1 - soundThen(x.link.from), now)
      return x.confirmed + then * expectedSinceOnset(x.sinceOnset, plainStep, now, then - now)
    })
  }

  /** The component was opened: what it did below is now known, or stays as expected; a new life begins. */
  opened(component: number, found: Found | null, renewed: boolean): void {
    for (const x of this.from[component]!) {
      const share = found === null ? this.beliefs[component]!.developing : found === 'sound' ? 0 : 1
      if (renewed) x.confirmed += share * x.sinceOnset
      if (renewed || found === 'sound') x.sinceOnset = 0
    }
  }

  hasUpstream(component: number): boolean {
    return this.to[component]!.length > 0
  }

  private extra(component: number, distance: (x: Exposure) => number): number {
    let extra = 0
    for (const x of this.to[component]!) {
      extra += (x.link.strength - 1) * this.beliefs[component]!.duty * distance(x)
    }
    return extra
  }
}
