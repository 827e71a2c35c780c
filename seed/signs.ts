import type { FamilyEntry, SignEntry } from './library/shape'
import { type Component, isDeveloping, progress } from './lives'
import type { Random } from './random'

export type Cause = { component: Component; detect: number }

/** One thing that can show: a sign, at a position where it has one, with the parts that may be behind it. */
export type Showing = { sign: SignEntry; position: number | null; causes: Cause[] }

export type LookKind = 'scan' | 'lamp' | 'visual' | 'road' | 'measure'

type Slot = Showing & { shows: boolean; until: number }

/** What does not show at one look will not for about a month; nor does what shows go away, save for a code. */
const HOLDS_DAYS = 28

export type Senses = {
  /** Every sign that shows to this kind of look today. */
  look(kind: LookKind, day: number): Showing[]
  /** Whether the engine has a proper test for any of these parts. */
  hasTestFor(components: readonly Component[]): boolean
  /** After a repair: what it could have caused is looked at afresh. */
  forget(weakPoint: string): void
  /** A code stays in the control unit until somebody clears it. */
  clearCodes(): void
}

/**
 * The senses of everybody who looks at one vehicle. A defect shows more the further it has gone (from 0.6 to
 * 1.4 times the stated chance), on some engines more than on others.
 */
export function makeSenses(family: FamilyEntry, components: readonly Component[], random: Random): Senses {
  const loudness = random.between(0.85, 1.15)
  const slots = family.signs.flatMap((sign) => makeSlots(sign, components))
  const shows = (slot: Slot): boolean => {
    let silent = 1 - slot.sign.leak
    for (const { component, detect } of slot.causes) {
      if (!isDeveloping(component)) continue
      silent *= 1 - Math.min(0.97, detect * loudness * (0.6 + 0.8 * progress(component)))
    }
    return random.chance(1 - silent)
  }
  return {
    look(kind, day) {
      const seen: Showing[] = []
      for (const slot of slots) {
        if (!isFoundBy(slot.sign, kind)) continue
        const stored = slot.shows && slot.sign.kind === 'code'
        if (!stored && day >= slot.until) {
          slot.shows = shows(slot)
          slot.until = day + HOLDS_DAYS
        }
        if (slot.shows) seen.push(slot)
      }
      return seen
    },
    hasTestFor: (suspects) =>
      slots.some(
        (slot) => slot.sign.kind === 'measure' && slot.causes.some((c) => suspects.includes(c.component)),
      ),
    forget(weakPoint) {
      wipe(slots.filter((slot) => slot.causes.some(({ component }) => component.weakPoint.key === weakPoint)))
    },
    clearCodes() {
      wipe(slots.filter((slot) => slot.sign.kind === 'code'))
    },
  }
}

function wipe(slots: readonly Slot[]): void {
  for (const slot of slots) {
    slot.shows = false
    slot.until = Number.NEGATIVE_INFINITY
  }
}

const isFoundBy = (sign: SignEntry, kind: LookKind): boolean =>
  kind === 'scan'
    ? sign.kind === 'code'
    : kind === 'lamp'
      ? sign.kind === 'code' && sign.lamp === true
      : sign.kind === kind

/** How many positions a sign has: those of its parts where a code or the sign itself names a cylinder. */
function positionsOf(sign: SignEntry, components: readonly Component[]): (number | null)[] {
  const byCode = sign.codes?.some((code) => code.includes('#'))
  if (!byCode && !sign.positions) return [null]
  const causes = new Set(sign.causes.map((cause) => cause.weakPoint))
  const most = Math.max(...components.filter((c) => causes.has(c.weakPoint.key)).map((c) => c.position))
  return Array.from({ length: most }, (_, i) => i + 1)
}

function makeSlots(sign: SignEntry, components: readonly Component[]): Slot[] {
  return positionsOf(sign, components).map((position) => ({
    sign,
    position,
    causes: sign.causes.flatMap(({ weakPoint, detect }) =>
      components
        .filter((c) => c.weakPoint.key === weakPoint)
        .filter((c) => position === null || (c.weakPoint.positions ?? 1) === 1 || c.position === position)
        .map((component) => ({ component, detect })),
    ),
    shows: false,
    until: Number.NEGATIVE_INFINITY,
  }))
}

/** The key as records write it: `misfire@3`. */
export const signText = ({ sign, position }: Showing): string =>
  position === null ? sign.key : `${sign.key}@${position}`
