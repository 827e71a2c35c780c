/**
 * What speaks for a component's chance, found in the numbers: every reason is a quantity that the belief holds,
 * and is left out where that quantity is small.
 */

import type { Strands } from '@/lib/model/strands'
import type { WeakPoint } from '@/lib/records/library'
import type { FollowedVehicle } from '@/lib/scoring/follow-vehicle'
import { type Day, spokenDay } from '@/lib/units/dates'
import { renewalAge } from './intervals'

/** A sighting that moves the odds by less says nothing. */
const TELLING_LOG_ODDS = 0.4
/** An upstream defect speaks where it made this share of the age. */
const TELLING_EXPOSURE = 0.1
const MOST_REASONS = 2
const ONE_YEAR = 365

/** The strongest reasons in a few words, strongest first; empty where nothing speaks for it. */
export function whatSpeaks(vehicle: FollowedVehicle, component: number, due: boolean): string {
  const state = vehicle.belief.beliefs[component]!
  const { weakPoint } = state.component
  const stop = stopReason(vehicle, component)
  const reasons = [
    state.failed ? 'recorded as failed' : null,
    stop,
    due ? dueReason(vehicle, component, weakPoint) : null,
    state.failed || stop ? null : whatWasSeen(vehicle, component),
    quickFixReason(vehicle, component, weakPoint),
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
  return stop ? `${signName(vehicle, stop.sign)} seen ${spokenDay(stop.day)}, not resolved` : null
}

function dueReason(vehicle: FollowedVehicle, component: number, weakPoint: WeakPoint): string {
  return `due every ${amount(weakPoint.renewEvery ?? 0, weakPoint)}, ${amount(renewalAge(vehicle.belief, component), weakPoint)} run`
}

/** The sign that moved the odds of the present life most, when it was last seen, and what it came back after. */
export function whatWasSeen(vehicle: FollowedVehicle, component: number): string | null {
  const { belief, sightings } = vehicle
  // Looks come before repairs within a day: what was seen on the day of a repair led to it.
  const since = belief.beliefs[component]!.beginning.day
  const weights = new Map<number, number>()
  for (const t of belief.testimonies) {
    if (t.component === component && t.day > since)
      weights.set(t.sign, (weights.get(t.sign) ?? 0) + t.logOdds)
  }
  const [sign, weight] = [...weights].reduce((a, b) => (b[1] > a[1] ? b : a), [-1, 0])
  if (weight < TELLING_LOG_ODDS) return null
  const days = sightings.filter((s) => s.sign === sign).map((s) => s.day)
  const repaired = repairedBetween(vehicle, sign, days[0] ?? 0, days.at(-1) ?? 0)
  const name = signName(vehicle, sign)
  return repaired.length > 0
    ? `${name} came back after ${repaired.join(' and ')}`
    : `${name} seen ${spokenDay(days.at(-1) ?? since)}`
}

/** What was renewed or fixed of the causes of a sign within the year before it was last seen, after it had been seen. */
function repairedBetween(
  { belief, repairs }: FollowedVehicle,
  sign: number,
  first: Day,
  last: Day,
): string[] {
  const causes = new Set(belief.plan.signs[sign]!.causes.map((c) => c.component))
  const between = repairs.filter(
    ({ component, day, repair }) =>
      repair.action !== 'inspect' &&
      causes.has(component) &&
      day >= Math.max(first, last - ONE_YEAR) &&
      day < last,
  )
  const names = between.map(({ component, repair }) => {
    const name = belief.plan.components[component]!.weakPoint.component.toLowerCase()
    return repair.action === 'temporary' ? `a quick fix of the ${name}` : name
  })
  return [...new Set(names)]
}

function quickFixReason({ belief }: FollowedVehicle, component: number, weakPoint: WeakPoint): string | null {
  const { how, clock } = belief.beliefs[component]!.beginning
  return how === 'temporary' ? `quick fix ${amount(belief.clockOf(component) - clock, weakPoint)} ago` : null
}

function upstreamReason({ belief }: FollowedVehicle, component: number): string | null {
  const { age } = likeliest(belief.beliefs[component]!.central)
  if (!(belief.agedByUpstream(component) > TELLING_EXPOSURE * age)) return null
  const worst = belief.plan.linksTo[component]!.reduce((a, b) =>
    belief.developing(b.from) > belief.developing(a.from) ? b : a,
  )
  return `aged by ${belief.plan.components[worst.from]!.weakPoint.component.toLowerCase()} above it`
}

/** Held against the ages of the part that is fitted: revision and variant move what the library states. */
function ageReason({ belief }: FollowedVehicle, component: number, weakPoint: WeakPoint): string | null {
  const { beginning, central, duty } = belief.beliefs[component]!
  if (beginning.how === 'unknown') return 'its age is not known'
  const { age, begunBy } = likeliest(central)
  if (!(age > begunBy(0.1))) return null
  const run = beginning.how === 'partial' ? age / duty : belief.clockOf(component) - beginning.clock
  return `${amount(run, weakPoint)} run, half begin to go by ${amount(begunBy(0.5) / duty, weakPoint)}`
}

/** Age of the heaviest strand, and the age by which a share of such parts begin to go (effective clock units). */
function likeliest({ tables, node, age, sound, developing }: Strands) {
  let heaviest = 0
  const mass = (i: number) => sound[i]! + developing[i]!
  for (let i = 1; i < node.length; i++) if (mass(i) > mass(heaviest)) heaviest = i
  const k = node[heaviest]!
  const begunBy = (share: number) =>
    Math.exp(tables.logScale[k]! + Math.log(-Math.log1p(-share)) / tables.shape[k]!)
  return { age: age[heaviest]!, begunBy }
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
