/**
 * How often signs were seen and not seen where a cause of them developed, and where none showed it: counts as expected
 * under what is believed of each life now that all of it is known (the expectation step of Dempster, Laird & Rubin
 * 1977).
 */
import { developingAt } from '@/lib/model/developing-at'
import { withoutSighting } from '@/lib/model/shown-by'
import type { EnginePlan } from './engine-plan'
import type { LookedAtLife, LooksForSigns, SignLook } from './life-log'
import type { Parameters } from './parameters'

export interface Counts {
  /** Looks at which it was so. */
  yes: number
  no: number
}

const NONE: Counts = { yes: 0, no: 0 }

export class SignCounts {
  private readonly leaks = new Map<string, Counts>()
  private readonly detects = new Map<string, Counts>()

  /** Whether a sign showed without a cause, at every look at it. */
  leak(sign: string): Counts {
    return this.leaks.get(sign) ?? NONE
  }

  /** Whether a weak point showed a sign, at the looks while it developed. */
  detect(sign: string, weakPoint: string): Counts {
    return this.detects.get(pairKey(sign, weakPoint)) ?? NONE
  }

  /** Counts the looks at one vehicle's signs. */
  add({ lookedAt, signLooks, silent }: LooksForSigns, plan: EnginePlan, parameters: Parameters): void {
    const known = new Map(lookedAt.map((life) => [life, chances(life, plan, parameters)]))
    silent.forEach((times, sign) => {
      if (times > 0) count(this.leaks, plan.signs[sign]!.key, 0, times)
    })
    for (const [life, developing] of known) this.addMissed(life, plan, developing)
    for (const look of signLooks) {
      const developing = look.causes.map(
        ({ believed, life, at }) => (life && known.get(life)?.[at]) ?? believed,
      )
      if (look.finding.seen) this.addSeen(look, plan, developing)
      else this.addHalfSilent(look, plan, developing)
    }
  }

  private addMissed(
    { component, missed, missedAt }: LookedAtLife,
    plan: EnginePlan,
    developing: Float64Array,
  ) {
    const bySign = new Float64Array(plan.signs.length)
    for (let i = 0; i < missed.length; i++) bySign[missed[i]!]! += developing[missedAt[i]!]!
    bySign.forEach((times, sign) => {
      if (times > 0) this.countCause(plan.signs[sign]!.key, plan, component, times, 0)
    })
  }

  /** Silence that counts only in part may hide a sign that was there. */
  private addHalfSilent({ finding, causes }: SignLook, plan: EnginePlan, developing: number[]): void {
    const placed = plan.signs[finding.sign]!
    count(this.leaks, placed.key, 0, finding.share)
    causes.forEach(({ component, life }, i) => {
      if (!life?.lived) return
      const { detect } = placed.causes[i]!
      const hidden = (detect * (1 - finding.share)) / (1 - detect * finding.share)
      this.countCause(placed.key, plan, component, developing[i]!, hidden)
    })
  }

  private addSeen({ finding, causes }: SignLook, plan: EnginePlan, developing: number[]): void {
    const placed = plan.signs[finding.sign]!
    const detect = placed.causes.map((cause) => cause.detect)
    const { developing: before, seen } = withoutSighting(detect, developing, placed.leak)
    const members = placed.members.length > 0 ? placed.members.map((m) => plan.signs[m]!) : [placed]
    for (const member of members) {
      const leaked = Math.min(member.leak / seen, 1)
      count(this.leaks, member.key, leaked, 1 - leaked)
      causes.forEach(({ component, life }, i) => {
        const cause = member.causes.find((c) => c.component === component)
        if (!cause || !life?.lived || !(developing[i]! > 0)) return
        const shown = Math.min((cause.detect * before[i]!) / seen / developing[i]!, 1)
        this.countCause(member.key, plan, component, developing[i]!, shown)
      })
    }
  }

  /** @param weight P(the cause developed) @param shown P(it showed the sign | it did) */
  private countCause(sign: string, plan: EnginePlan, component: number, weight: number, shown: number): void {
    const key = pairKey(sign, plan.components[component]!.weakPoint.key)
    count(this.detects, key, weight * shown, weight * (1 - shown))
  }
}

function count(counts: Map<string, Counts>, key: string, yes: number, no: number): void {
  const so = counts.get(key)
  if (so) {
    so.yes += yes
    so.no += no
  } else counts.set(key, { yes, no })
}

const pairKey = (sign: string, weakPoint: string) => `${sign} ${weakPoint}`

function chances(
  { component, lived, revision, ages }: LookedAtLife,
  plan: EnginePlan,
  parameters: Parameters,
): Float64Array {
  const { weakPoint } = plan.components[component]!
  return developingAt(lived!, ages, parameters.of(weakPoint, revision, plan.variant).central)
}
