import type { DemoLibrary } from './library/library'
import { MODEL_RANGE, type Model } from './model-range'
import { makeRandom, type Random } from './random'
import type { Duty } from './rows'
import type { Habits, Vehicle } from './vehicle'

export type Past = Pick<Vehicle, 'origin' | 'inServiceOn' | 'firstDay' | 'firstKm'>
export type Stay = Pick<Vehicle, 'leaves' | 'lastDay' | 'sale'>

/** Whose vehicles they are: everything about them that is another matter in another organisation. */
export type Ways = {
  /** How many of each engine, in the order of the model range. */
  counts: Record<string, number>
  /** The number of the i-th vehicle (from 0), in the words of the organisation. */
  unit(i: number): string
  sites: readonly string[]
  trackerShare: number
  /** Distance against that of a vehicle at work. */
  use: number
  /** Share of vehicles that work in the mowing season only. */
  summerShare: number
  attention: readonly [number, number]
  oldInvoicesShare: number
  /** @param turn the vehicle's place among all, from 0 to below 1. */
  past(kmPerDay: number, turn: number, random: Random): Past
  stay(past: Past, random: Random): Stay
  stands(past: Past, stay: Stay, random: Random): Vehicle['stands']
  habits: Habits
}

const KM_PER_HOUR: Record<Duty, number> = { short: 24, mixed: 38, long: 58 }

/** All vehicles of an organisation, in order of their numbers; each has a random stream of its own. */
export function makeVehicles(seed: string, ways: Ways, library: DemoLibrary, priceLevel: number): Vehicle[] {
  const keys = Object.entries(ways.counts).flatMap(([key, count]) => Array.from({ length: count }, () => key))
  const order = makeRandom(`${seed}/order`)
  const shuffled = keys.map((key) => ({ key, at: order.next() })).sort((a, b) => a.at - b.at)
  return shuffled.map(({ key }, i) => {
    const unit = ways.unit(i)
    const who = { unit, familyKey: key, family: library.families.find((f) => f.key === key) ?? null }
    const turn = i / keys.length
    return makeVehicle(who, turn, ways, priceLevel, makeRandom(`${seed}/${unit}/who`))
  })
}

function makeVehicle(
  who: Pick<Vehicle, 'unit' | 'familyKey' | 'family'>,
  turn: number,
  ways: Ways,
  priceLevel: number,
  random: Random,
): Vehicle {
  const model: Model = MODEL_RANGE[who.familyKey]!
  const duty = random.pick(model.duties)
  const kmPerDay = (model.kmPerYear[duty] / 365) * ways.use * Math.exp(0.2 * random.normal())
  const past = ways.past(kmPerDay, turn, random)
  const variant = who.family && random.chance(0.85) ? random.pick(who.family.variants).key : null
  const site = ways.sites.length > 0 ? random.pick(ways.sites) : null
  const tracker = random.chance(ways.trackerShare) ? random.pick(['codes', 'lamp', 'lamp'] as const) : null
  const stay = ways.stay(past, random)
  return {
    ...who,
    variant,
    site,
    duty,
    tracker,
    ...past,
    ...stay,
    kmPerDay,
    season: random.chance(ways.summerShare) ? 'summer' : 'even',
    stands: ways.stands(past, stay, random),
    kmPerHour: KM_PER_HOUR[duty] * Math.exp(0.12 * random.normal()),
    hoursFrom: model.countsHours && random.chance(0.65) ? -random.whole(300, 2190) : null,
    serviceEveryKm: model.serviceEveryKm,
    lateness: random.chance(0.03) ? random.between(1.2, 1.6) : random.between(0.88, 0.98),
    attention: random.between(...ways.attention),
    temper: Math.exp(0.12 * random.normal()),
    ...makeMisfortune(past, ways.oldInvoicesShare, random),
    price: Math.round((model.price * priceLevel * random.between(0.9, 1.15)) / 100) * 100,
    habits: ways.habits,
  }
}

/** A few vehicles have a past, an exchanged instrument or a hole in their papers. */
function makeMisfortune({ origin, firstDay, firstKm }: Past, oldInvoicesShare: number, random: Random) {
  const cluster = random.chance(0.01) && firstDay < -900
  const lost = random.chance(0.02) && firstDay < -1500
  return {
    oldInvoices: origin === 'bought' && firstKm > 60000 && random.chance(oldInvoicesShare),
    newClusterOn: cluster ? -random.whole(200, 700) : null,
    papersLost: lost ? { from: -1240, to: -1060 } : null,
  }
}

/** Those that have been here for three years and more may have gone again. */
export function mayHaveGone({ firstDay }: Past, random: Random): Stay {
  if (firstDay > -1100 || !random.chance(0.12)) return { leaves: null, lastDay: 0, sale: null }
  const leaves = random.pick(['sold', 'sold', 'retired'] as const)
  return { leaves, lastDay: -random.whole(40, 900), sale: null }
}

/** A few have been laid up for months. */
export const mayStand = (share: number, random: Random): Vehicle['stands'] =>
  random.chance(share) ? { from: -random.whole(90, 420), until: 0, mostKm: 2 } : null
