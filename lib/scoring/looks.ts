/**
 * From looks to evidence: which results count, and which only repeat what an open window already knows.
 *
 * A sign's window begins with the first look at it and ends 1,500 km or 30 days later, or at a repair of
 * something that causes it. Within a window the first result counts; a sign first absent and then seen opens
 * a new one.
 */
import type { Day } from '@/lib/units/dates'
import type { EnginePlan } from './engine-plan'

export const WINDOW_KM = 1500
export const WINDOW_DAYS = 30

/** One occasion of looking, by sign index. */
export interface Look {
  day: Day
  km: number
  seen: number[]
  /** Looked for; what is not among `seen` was not seen. */
  lookedFor: number[]
  /** Share in which silence counts: below 1 after codes were cleared. */
  share: number
  /** A permanent code is the same sighting again, unless a linked part was renewed since. */
  permanent: boolean
  /** Codes were cleared then: what is seen later is new. */
  clearedOn: Day | null
}

/** A result that counts. */
export interface Finding {
  sign: number
  seen: boolean
  share: number
}

interface Window {
  day: Day
  km: number
  seen: boolean
  /** In which it counted. */
  share: number
  clearedOn: Day | null
}

export class LookWindows {
  private readonly windows = new Map<number, Window>()
  /** Seen since the last repair of a part that causes it. */
  private readonly seenSince = new Set<number>()

  constructor(private readonly plan: EnginePlan) {}

  copy(): LookWindows {
    const own = new LookWindows(this.plan)
    for (const [sign, window] of this.windows) own.windows.set(sign, { ...window })
    for (const sign of this.seenSince) own.seenSince.add(sign)
    return own
  }

  /**
   * What of a look is new evidence.
   *
   * @param ahead whether one of some signs will be seen while a union's window is open: then that sighting,
   *   which says more, counts in its place
   */
  take(look: Look, ahead: (members: number[], look: Look) => boolean): Finding[] {
    const findings: Finding[] = []
    for (const sign of look.seen) {
      const { members } = this.plan.signs[sign]!
      const known =
        members.some((m) => look.seen.includes(m) || this.open(m, look)?.seen) ||
        (members.length > 0 && ahead(members, look))
      if (this.sighting(sign, look) && !known) findings.push({ sign, seen: true, share: 1 })
    }
    for (const sign of look.lookedFor) {
      // Silence soon after codes were cleared leaves room for one that says more.
      const known = this.open(sign, look)?.share ?? 0
      if (look.seen.includes(sign) || look.share <= known) continue
      findings.push({ sign, seen: false, share: look.share })
      this.windows.set(sign, {
        day: look.day,
        km: look.km,
        seen: false,
        share: look.share,
        clearedOn: null,
      })
    }
    return findings
  }

  /** A renewal, partial or temporary repair ends the windows of the signs that the component causes. */
  repaired(component: number): void {
    for (const sign of this.plan.signsOf[component]!) {
      this.windows.delete(sign)
      this.seenSince.delete(sign)
    }
  }

  /** Whether a look at a sign now would tell nothing new. */
  isOpen(sign: number, at: { day: Day; km: number }): boolean {
    return (this.open(sign, at)?.share ?? 0) >= 1
  }

  private open(sign: number, at: { day: Day; km: number }): Window | null {
    const window = this.windows.get(sign)
    if (!window || at.day - window.day >= WINDOW_DAYS || at.km - window.km >= WINDOW_KM) return null
    return window.clearedOn !== null && at.day > window.clearedOn ? null : window
  }

  private sighting(sign: number, look: Look): boolean {
    const window = this.open(sign, look)
    const repeated = window?.seen === true || (look.permanent && this.seenSince.has(sign))
    // A clearing before the sighting has ended an earlier one, not this.
    const clearedOn = look.clearedOn !== null && look.clearedOn >= look.day ? look.clearedOn : null
    if (!repeated) this.windows.set(sign, { day: look.day, km: look.km, seen: true, share: 1, clearedOn })
    else if (window && clearedOn !== null) window.clearedOn = clearedOn
    this.seenSince.add(sign)
    return !repeated
  }
}
