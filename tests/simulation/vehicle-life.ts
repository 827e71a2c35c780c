/** One vehicle of the simulated world, lived day by day: parts age, fail, are looked at and put right. */
import type { Day } from '@/lib/units/dates'
import { findsSign, type Network, type SignAtPosition } from './network'
import type { Random } from './random'
import { parametersOfLife, type Truth } from './truth'
import { drawOnset, type Parameters } from './two-stage'

export type Duty = 'short' | 'mixed' | 'long'
export type State = 'sound' | 'developing' | 'failed'

/** One life of one part; ages in effective units of its clock. */
export type Life = {
  parameters: Parameters
  revision: string | null
  age: number
  onsetAge: number
  failAge: number
  /** Distance, hours or days on the clock since it was last renewed for good: what an interval counts. */
  sinceRenewal: number
}

type Window = { day: Day; km: number; seen: boolean }

const WINDOW_DAYS = 30
const WINDOW_KM = 1500
/** Common practice, no source: average speed by duty, for clocks in hours. */
const KM_PER_HOUR = { short: 24, mixed: 38, long: 58 }

export const stateOf = (life: Life): State =>
  life.age >= life.failAge ? 'failed' : life.age >= life.onsetAge ? 'developing' : 'sound'

export type VehicleLife = ReturnType<typeof startVehicle>

/** A new vehicle at 0 km on `firstDay`, every part original and sound. */
export function startVehicle(network: Network, truth: Truth, duty: Duty, firstDay: Day, random: Random) {
  const { parts, signs } = network
  const windows: (Window | null)[] = signs.map(() => null)
  let day = firstDay
  let km = 0

  /** A life from virtual age `age`; `fresh` false leaves a defect in with the chance of a repair that fails. */
  function begin(index: number, age: number, revision: string | null, original: boolean): Life {
    const { weakPoint } = parts[index]!
    const parameters = parametersOfLife(truth, weakPoint.key, revision)
    const flawed = !original && parameters.pfMean > 0 && !random.chance(weakPoint.success)
    const onsetAge = flawed ? age : drawOnset(parameters, age, random)
    const failAge = onsetAge + (parameters.pfMean > 0 ? random.exponential(parameters.pfMean) : 0)
    return { parameters, revision, age, onsetAge, failAge, sinceRenewal: 0 }
  }
  const lives = parts.map((_, index) => begin(index, 0, null, true))

  const detected = ({ sign, causes }: SignAtPosition) => {
    let absent = 1 - sign.leak
    for (const { part, detect } of causes) if (stateOf(lives[part]!) !== 'sound') absent *= 1 - detect
    return !random.chance(absent)
  }

  return {
    lives,
    duty,
    get day() {
      return day
    },
    get km() {
      return km
    },
    state: (index: number): State => stateOf(lives[index]!),

    /** Lives through one day of `distanceKm`. */
    drive(distanceKm: number) {
      day++
      km += distanceKm
      advanceLives(network, lives, duty, distanceKm, 1)
    },

    /** Looks for every sign that this kind of check finds; a look within a window shows the same again. */
    look(kind: string): SignAtPosition[] {
      return signs.filter((entry, i) => {
        if (!findsSign(kind, entry.sign)) return false
        const open = windows[i]
        if (open && day - open.day < WINDOW_DAYS && km - open.km < WINDOW_KM) return open.seen
        const seen = detected(entry)
        windows[i] = { day, km, seen }
        return seen
      })
    },

    /** Renews a part, fully, in part, or with a short-lived fix. */
    repair(index: number, action: 'renew' | 'partial' | 'temporary', revision: string | null) {
      const { weakPoint } = parts[index]!
      const before = lives[index]!
      const age = action === 'partial' ? (1 - weakPoint.restored) * before.age : 0
      const kept = action === 'partial' ? before.revision : revision
      const life = begin(index, age, kept, false)
      lives[index] = { ...life, sinceRenewal: action === 'renew' ? 0 : before.sinceRenewal }
      signs.forEach(({ causes }, i) => {
        if (causes.some((c) => c.part === index)) windows[i] = null
      })
    },
  }
}

/** Moves every life through `distanceKm` and `days`; an upstream part that is not sound hastens its neighbours. */
export function advanceLives(
  { parts, links }: Network,
  lives: Life[],
  duty: Duty,
  distanceKm: number,
  days: number,
) {
  const hastened = parts.map(() => 1)
  for (const { from, to, strength } of links) {
    if (stateOf(lives[from]!) !== 'sound') hastened[to]! += strength - 1
  }
  lives.forEach((life, index) => {
    const { weakPoint } = parts[index]!
    const plain = plainAdvance(weakPoint.clock, duty, distanceKm, days)
    life.age += plain * weakPoint.duty[duty] * hastened[index]!
    life.sinceRenewal += plain
  })
}

/** What a weak point's clock counts over a distance and a time. */
export function plainAdvance(
  clock: 'distance' | 'hours' | 'time',
  duty: Duty,
  distanceKm: number,
  days: number,
) {
  if (clock === 'time') return days
  return clock === 'hours' ? distanceKm / KM_PER_HOUR[duty] : distanceKm
}
