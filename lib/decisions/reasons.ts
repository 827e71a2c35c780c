/**
 * What speaks for a component's chance, found in the numbers: every reason is a quantity that the belief holds,
 * and is left out where that quantity is small.
 */

import type { WeakPoint } from '@/lib/records/library'
import type { FollowedVehicle } from '@/lib/scoring/follow-vehicle'
import type { Testimony } from '@/lib/scoring/vehicle-belief'
import { formatDay } from '@/lib/units/dates'
import { renewalAge } from './intervals'

/** A sighting that moves the odds by less says nothing. */
const TELLING_LOG_ODDS = 0.4
/** An upstream defect speaks where it made this share of the age. */
const TELLING_EXPOSURE = 0.05
/** Age speaks once the stated age by which 10 % begin to go is passed. */
const MOST_REASONS = 2

/** The strongest reasons in a few words, strongest first; empty where nothing speaks for it. */
export function whatSpeaks(vehicle: FollowedVehicle, component: number, due: boolean): string {
  const state = vehicle.belief.beliefs[component]!
  const { weakPoint } = state.component
  const reasons = [
    state.failed ? 'recorded as failed' : null,
    stopReason(vehicle, component),
    due ? dueReason(vehicle, component, weakPoint) : null,
    state.failed ? null : sightingReason(vehicle, component),
    upstreamReason(vehicle, component),
    ageReason(vehicle, component, weakPoint),
  ]
  return reasons
    .filter((r) => r !== null)
    .slice(0, MOST_REASONS)
    .join('; ')
}

function stopReason(vehicle: FollowedVehicle, component: number): string | null {
  const stop = vehicle.stops.find((s) => s.unresolved.has(component))
  return stop ? `${signName(vehicle, stop.sign)} seen ${formatDay(stop.day)}, not resolved` : null
}

function dueReason(vehicle: FollowedVehicle, component: number, weakPoint: WeakPoint): string {
  return `due every ${amount(weakPoint.renewEvery ?? 0, weakPoint)}, ${amount(renewalAge(vehicle.belief, component), weakPoint)} run`
}

/** The sighting in the present life that moved the odds most, and what was renewed before it came back. */
function sightingReason(vehicle: FollowedVehicle, component: number): string | null {
  const { belief } = vehicle
  const since = belief.beliefs[component]!.beginning.day
  const mine = belief.testimonies.filter((t) => t.component === component && t.day >= since)
  const total = mine.reduce((a, t) => a + t.logOdds, 0)
  const strongest = mine.reduce<Testimony | null>(
    (best, t) => (best && best.logOdds >= t.logOdds ? best : t),
    null,
  )
  if (!strongest || total < TELLING_LOG_ODDS || strongest.logOdds < TELLING_LOG_ODDS) return null
  const renewed = renewedBeforeReturn(vehicle, strongest)
  const name = signName(vehicle, strongest.sign)
  return renewed.length > 0
    ? `${name} came back after ${renewed.join(' and ')}`
    : `${name} seen ${formatDay(strongest.day)}`
}

/** Parts that cause the sign and were renewed between an earlier sighting and this one. */
function renewedBeforeReturn({ belief, repairs }: FollowedVehicle, sighting: Testimony): string[] {
  const earlier = belief.testimonies.filter((t) => t.sign === sighting.sign && t.day < sighting.day)
  const first = Math.min(...earlier.map((t) => t.day))
  const causes = new Set(belief.plan.signs[sighting.sign]!.causes.map((c) => c.component))
  const renewed = repairs.filter(
    (r) =>
      r.repair.action !== 'inspect' && causes.has(r.component) && r.day >= first && r.day <= sighting.day,
  )
  return [
    ...new Set(renewed.map((r) => belief.plan.components[r.component]!.weakPoint.component.toLowerCase())),
  ]
}

function upstreamReason({ belief }: FollowedVehicle, component: number): string | null {
  const age = belief.beliefs[component]!.central.age[0]!
  if (!(belief.exposures.extraAge(component) > TELLING_EXPOSURE * age)) return null
  const worst = belief.plan.linksTo[component]!.reduce((a, b) =>
    belief.developing(b.from) > belief.developing(a.from) ? b : a,
  )
  return `aged by ${belief.plan.components[worst.from]!.weakPoint.component.toLowerCase()} above it`
}

function ageReason({ belief }: FollowedVehicle, component: number, weakPoint: WeakPoint): string | null {
  const state = belief.beliefs[component]!
  if (state.beginning.how === 'unknown') return 'its age is not known'
  const run = belief.clockOf(component) - state.beginning.clock
  if (!(state.central.age[0]! > weakPoint.onset.p10)) return null
  return `${amount(run, weakPoint)} run, half begin to go by ${amount(weakPoint.onset.p50, weakPoint)}`
}

const UNITS = { distance: 'km', hours: 'h', time: 'days' } as const
const NUMBER = new Intl.NumberFormat('en', { maximumFractionDigits: 0 })

function amount(value: number, weakPoint: WeakPoint): string {
  const rounded = value >= 1000 ? Math.round(value / 100) * 100 : value
  return `${NUMBER.format(rounded)} ${UNITS[weakPoint.clock]}`
}

function signName(vehicle: FollowedVehicle, sign: number): string {
  const { label, position } = vehicle.belief.plan.signs[sign]!
  return position === null ? label : `${label} (${position})`
}
