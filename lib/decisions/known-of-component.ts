/** What was on record of one component on a day: signs that were seen, looks that were made, and what nobody looked at. */
import type { Family } from '@/lib/records/library'
import type { CheckRow } from '@/lib/records/rows'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import { compileEngine, type EnginePlan } from '@/lib/scoring/engine-plan'
import { type Look, WINDOW_DAYS } from '@/lib/scoring/looks'
import { timelineOf, type VehicleEvent } from '@/lib/scoring/timeline'
import type { Day } from '@/lib/units/dates'

/** A component with the engine that it is of. */
export interface PlacedComponent {
  plan: EnginePlan
  /** Its place among the plan's components. */
  index: number
}

/** @returns null where the engine of that version has no such component */
export function placedComponent(
  family: Family,
  variant: string | null,
  { weakPoint, position }: { weakPoint: string; position: number },
): PlacedComponent | null {
  const plan = compileEngine(family, variant, true)
  const index = plan.components.findIndex(
    (one) => one.weakPoint.key === weakPoint && one.position === position,
  )
  return index < 0 ? null : { plan, index }
}

type NamedSign = { label: string; position: number | null }

export interface KnownThen {
  /** When the part came in that is spoken of: its last renewal on record; null where it is the first on record. */
  since: Day | null
  /** Signs of it that were seen since then, in the order of the library. */
  seen: (NamedSign & { days: Day[] })[]
  /** Looks since then that would have shown it, by kind. */
  looks: { kind: CheckRow['kind']; count: number; last: Day }[]
  /** Signs that would have shown it, and were looked for too long ago to tell, or never since then (null). */
  unlooked: (NamedSign & { last: Day | null })[]
}

/**
 * What of the records told of a component on a day.
 *
 * A look tells for as long as its window is open (`scoring/looks`); what was seen is told however long ago, until the
 * part is renewed. A look for a sign counts whether it was seen or not; a code alone looks for nothing but itself.
 *
 * @param records as they stood on that day
 */
export function knownOf(records: VehicleRecords, { plan, index }: PlacedComponent, asOf: Day): KnownThen {
  const signs = plan.signsOf[index]!
  const seen = new Map<number, Day[]>()
  const looked = new Map<number, Day>()
  const looks = new Map<CheckRow['kind'], { count: number; last: Day }>()
  let since: Day | null = null
  for (const event of timelineOf(records, plan, () => 0, null, asOf)) {
    if (renews(event, { plan, index })) {
      since = event.day
      for (const each of [seen, looked, looks]) each.clear()
    }
    if (event.kind !== 'look') continue
    const [shown, asked] = [event.look.seen, event.look.lookedFor].map((list) =>
      list.filter((sign) => signs.includes(sign)),
    ) as [number[], number[]]
    for (const sign of shown) seen.set(sign, [...(seen.get(sign) ?? []), event.day])
    for (const sign of [...shown, ...asked]) looked.set(sign, event.day)
    if (isLook(event) && shown.length + asked.length > 0) {
      const before = looks.get(event.check)?.count ?? 0
      looks.set(event.check, { count: before + 1, last: event.day })
    }
  }
  const named = (sign: number): NamedSign => ({
    label: plan.signs[sign]!.label,
    position: plan.signs[sign]!.position,
  })
  return {
    since,
    seen: signs.flatMap((sign) => {
      const days = seen.get(sign)
      return days ? [{ ...named(sign), days: [...new Set(days)] }] : []
    }),
    looks: Array.from(looks, ([kind, made]) => ({ kind, ...made })),
    unlooked: signs
      .filter((sign) => plan.signs[sign]!.members.length === 0 && !seen.has(sign))
      .map((sign) => ({ ...named(sign), last: looked.get(sign) ?? null }))
      .filter(({ last }) => last === null || asOf - last >= WINDOW_DAYS),
  }
}

/** Whether somebody went and looked: a code alone may have been read in passing, and what a driver says is only heard. */
export const isLook = (event: VehicleEvent): event is LookMade =>
  event.kind === 'look' && event.check !== null && event.check !== 'report'

type LookMade = Extract<VehicleEvent, { kind: 'look' }> & { check: CheckRow['kind'] }

/** Whether a look would have shown a component's signs, or did. */
export function wouldShow({ seen, lookedFor }: Look, { plan, index }: PlacedComponent): boolean {
  return plan.signsOf[index]!.some((sign) => seen.includes(sign) || lookedFor.includes(sign))
}

/** Whether work was about a component; where it was not written down about which of several, it was not surely. */
export function isAbout(event: VehicleEvent, { plan, index }: PlacedComponent): boolean {
  const { weakPoint, position } = plan.components[index]!
  return (
    event.kind === 'repair' &&
    event.repair.weakPoint === weakPoint.key &&
    event.repair.positions.includes(position)
  )
}

function renews(event: VehicleEvent, component: PlacedComponent): boolean {
  if (event.kind === 'change') return event.change.kind.startsWith('engine-')
  return event.kind === 'repair' && event.repair.action === 'renew' && isAbout(event, component)
}
