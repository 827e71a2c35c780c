/** What was seen on a vehicle, as a question of where the fault is: its causes, and the looks that could tell. */
import type { Sign } from '@/lib/records/library'
import { LATELY_DAYS } from '@/lib/records/seen-lately'
import type { LifeBeginning } from '@/lib/scoring/component-belief'
import type { FollowedVehicle } from '@/lib/scoring/follow-vehicle'
import { WINDOW_KM } from '@/lib/scoring/looks'
import type { Day } from '@/lib/units/dates'
import type { AdviceGround } from './advice'
import { jobCost } from './costs'
import { type FaultOrder, faultOrder } from './fault-order'
import type { FaultCause, FaultLook } from './fault-question'

export interface FaultFinding extends FaultOrder {
  /** The signs that are to be explained. */
  seen: { sign: string; position: number | null }[]
  /** By cause, in the order of `causes`: P(it is going), whatever else is. */
  developing: number[]
}

/** A cause less likely than this, of those that are left, is not worth naming. */
const UNLIKELY = 0.005

/**
 * The order for the signs that were seen in the last 90 days and not answered by a renewal since.
 *
 * One of the parts that can cause them is taken to be the fault: P(this one goes and the others do not), from the joint
 * belief of each group of parts that share signs. That it is none of them is left aside; so is that it may be two.
 *
 * @returns null where nothing was seen that a known weak point could cause
 */
export function findFault(ground: AdviceGround, spendingLimit?: number): FaultFinding | null {
  const { belief } = ground.vehicle
  const seen = signsPresent(ground)
  const components = [...new Set(seen.flatMap((s) => belief.plan.signs[s]!.causes.map((c) => c.component)))]
  const chances = chancesOfOne(ground, components)
  const likely = components.map((component, i) => ({ component, chance: chances[i]! }))
  const kept = likely.filter(({ chance }) => chance >= UNLIKELY)
  const total = kept.reduce((sum, { chance }) => sum + chance, 0)
  if (!(total > 0)) return null
  const causes = kept.map(({ component, chance }): FaultCause => {
    const { weakPoint, position } = belief.beliefs[component]!.component
    const cost = jobCost(weakPoint, ground.prices).planned
    return { weakPoint: weakPoint.key, position, chance: chance / total, cost, success: weakPoint.success }
  })
  const looks = looksAt(
    ground,
    kept.map(({ component }) => component),
  )
  const order = faultOrder({ causes, looks, ...(spendingLimit === undefined ? {} : { spendingLimit }) })
  const goingOf = new Map(
    kept.map(({ component }, i) => [
      `${causes[i]!.weakPoint} ${causes[i]!.position}`,
      belief.developing(component),
    ]),
  )
  return {
    ...order,
    seen: seen.map((s) => ({ sign: belief.plan.signs[s]!.key, position: belief.plan.signs[s]!.position })),
    developing: order.causes.map(({ weakPoint, position }) => goingOf.get(`${weakPoint} ${position}`)!),
  }
}

/** Seen lately, and since the last renewal of a part that could have caused it. */
function signsPresent({ vehicle, clock }: AdviceGround): number[] {
  const { plan, beliefs } = vehicle.belief
  return [...lastSightings(vehicle, clock.asOf)].flatMap(([sign, day]) =>
    plan.signs[sign]!.causes.every((c) => !answers(beliefs[c.component]!.beginning, day)) ? [sign] : [],
  )
}

/** Whether a part was put in since: the day on which records begin, or an engine came, may be that of the sighting. */
const answers = ({ how, day }: LifeBeginning, seenOn: Day): boolean =>
  how === 'original' || how === 'unknown' ? day > seenOn : day >= seenOn

/** The day on which each sign was last seen, of those seen lately. */
function lastSightings({ sightings }: FollowedVehicle, today: Day): Map<number, Day> {
  const lastSeen = new Map<number, Day>()
  for (const { sign, day } of sightings) lastSeen.set(sign, Math.max(lastSeen.get(sign) ?? day, day))
  return new Map([...lastSeen].filter(([, day]) => today - day <= LATELY_DAYS))
}

/** A sign seen lately, of which a part that could have caused it was replaced since. */
export interface AnsweredSign {
  sign: string
  position: number | null
  seenOn: Day
  renewed: { weakPoint: string; position: number; on: Day }[]
  /** By the last trusted reading: how far it was driven since, without the sign. */
  drivenKm: number
  /** It was driven far enough to say that the replacement helped. */
  helped: boolean
}

/**
 * What was replaced since a sign was seen, and whether it helped: that takes a distance driven, the one in which a sign
 * that is there would have shown again (the window of a look). Standing in the yard proves nothing.
 */
export function signsAnswered({ vehicle, clock }: AdviceGround): AnsweredSign[] {
  const { plan, beliefs } = vehicle.belief
  return [...lastSightings(vehicle, clock.asOf)].flatMap(([s, seenOn]) => {
    const { key, position, causes } = plan.signs[s]!
    const renewed = causes.flatMap(({ component }) => {
      const { beginning, component: part } = beliefs[component]!
      if (!answers(beginning, seenOn)) return []
      return [{ weakPoint: part.weakPoint.key, position: part.position, on: beginning.day }]
    })
    if (renewed.length === 0) return []
    const last = Math.max(...renewed.map(({ on }) => on))
    const read = clock.lastTrusted
    const drivenKm = read && read.day > last ? Math.max(read.km - clock.kmAt(last), 0) : 0
    return [{ sign: key, position, seenOn, renewed, drivenKm, helped: drivenKm >= WINDOW_KM }]
  })
}

/** A chance that this is certain is kept below 1, so that its odds stay numbers. */
const CERTAIN = 1 - 1e-9

/** By component: P(it alone goes), up to a common factor; sums to 1. */
function chancesOfOne({ vehicle }: AdviceGround, components: readonly number[]): number[] {
  const { belief } = vehicle
  const odds = components.map((component) => {
    const { joint, index } = belief.jointOf(component)
    const group = belief.plan.groupOf[component]!
    const others = components.filter((c) => c !== component && belief.plan.groupOf[c] === group)
    let [alone, none] = [0, 0]
    for (const { weight, developing } of joint.table()) {
      const going = (c: number) =>
        Math.min(belief.beliefs[c]!.failed ? 1 : developing[belief.jointOf(c).index]!, CERTAIN)
      const quiet = others.reduce((product, c) => product * (1 - going(c)), weight)
      const here = belief.beliefs[component]!.failed ? CERTAIN : Math.min(developing[index]!, CERTAIN)
      alone += quiet * here
      none += quiet * (1 - here)
    }
    return alone / none
  })
  const total = odds.reduce((a, b) => a + b, 0)
  return odds.map((each) => (total > 0 ? each / total : 0))
}

type LookKind = 'scan' | 'visual' | 'road' | 'measure'
const isLookKind = (kind: Sign['kind'] | 'scan'): kind is LookKind => kind !== 'code'

/** A look for each sign that bears on a cause and that nobody has just looked for, at the price of its hours. */
function looksAt({ vehicle, clock, prices }: AdviceGround, causes: readonly number[]): FaultLook[] {
  const { plan } = vehicle.belief
  const now = { day: clock.asOf, km: clock.kmAt(clock.asOf) }
  const signs = new Map(plan.family.signs.map((sign) => [sign.key, sign]))
  return plan.signs.flatMap((placed, s): FaultLook[] => {
    const sign = signs.get(placed.key)
    if (!sign || placed.members.length > 0 || vehicle.windows.isOpen(s, now)) return []
    const detectOf = new Map(placed.causes.map(({ component, detect }) => [component, detect]))
    if (!causes.some((c) => detectOf.has(c))) return []
    const kind = sign.kind === 'code' ? 'scan' : sign.kind
    const hours = sign.hours ?? (isLookKind(kind) ? prices.lookHours[kind] : 0)
    return [
      {
        look: placed.position === null ? placed.key : `${placed.key}@${placed.position}`,
        cost: hours * prices.labourRate,
        // One look of a kind finds all that has no hours of its own.
        atOnce: sign.hours === null ? kind : null,
        leak: placed.leak,
        detect: causes.map((c) => detectOf.get(c) ?? 0),
      },
    ]
  })
}
