import { DUNLIN } from './library/dunlin'
import { KNOT } from './library/knot'
import { PLOVER } from './library/plover'
import type { FamilyEntry } from './library/shape'
import { SISKIN } from './library/siskin'
import { makeRandom, type Random } from './random'
import type { Duty } from './rows'

/** Six years, in days; day 0 is the last day of the records. */
export const FIRST_DAY = -2190

/** One vehicle of the fleet: what it is, how it is used and looked after. Days count from the end. */
export type Vehicle = {
  unit: string
  familyKey: string
  /** null: an engine that nobody has described. */
  family: FamilyEntry | null
  variant: string | null
  site: string
  duty: Duty
  /** What its tracker sends beside the odometer: the codes themselves, or only that the lamp is on. */
  tracker: 'codes' | 'lamp' | null
  origin: 'new' | 'kept' | 'bought'
  inServiceOn: number
  firstDay: number
  firstKm: number
  lastDay: number
  leaves: 'sold' | 'retired' | null
  kmPerDay: number
  season: 'even' | 'summer'
  standsFrom: number | null
  kmPerHour: number
  /** From when engine hours are written down, if ever. */
  hoursFrom: number | null
  serviceEveryKm: number
  /** Scheduled renewals happen this late, as a share of the interval. */
  lateness: number
  /** The driver's chance per week to report something that can be seen or heard. */
  attention: number
  temper: number
  /** Bought with an odometer that had been turned back, as old invoices show. */
  oldInvoices: boolean
  newClusterOn: number | null
  papersLost: { from: number; to: number } | null
  price: number
}

type Model = {
  familyKey: string
  family: FamilyEntry | null
  count: number
  kmPerYear: Record<Duty, number>
  duties: Duty[]
  price: number
  serviceEveryKm: number
}

const MODELS: Model[] = [
  {
    familyKey: PLOVER.key,
    family: PLOVER,
    count: 130,
    kmPerYear: { short: 13000, mixed: 21000, long: 32000 },
    duties: ['short', 'mixed', 'mixed', 'long'],
    price: 26000,
    serviceEveryKm: 15000,
  },
  {
    familyKey: DUNLIN.key,
    family: DUNLIN,
    count: 158,
    kmPerYear: { short: 15000, mixed: 26000, long: 41000 },
    duties: ['short', 'mixed', 'mixed', 'long'],
    price: 34000,
    serviceEveryKm: 20000,
  },
  {
    familyKey: SISKIN.key,
    family: SISKIN,
    count: 80,
    kmPerYear: { short: 9000, mixed: 15000, long: 23000 },
    duties: ['short', 'short', 'mixed', 'long'],
    price: 15500,
    serviceEveryKm: 15000,
  },
  {
    familyKey: KNOT.key,
    family: KNOT,
    count: 47,
    kmPerYear: { short: 20000, mixed: 38000, long: 64000 },
    duties: ['short', 'mixed', 'long'],
    price: 98000,
    serviceEveryKm: 30000,
  },
  {
    familyKey: 'wheatear-30',
    family: null,
    count: 12,
    kmPerYear: { short: 12000, mixed: 18000, long: 25000 },
    duties: ['short', 'mixed'],
    price: 41000,
    serviceEveryKm: 15000,
  },
]

const SITES = ['Tussock Yard', 'Bilberry Yard', 'Cottongrass Yard', 'Sundew Yard', 'Bogbean Yard']

const KM_PER_HOUR: Record<Duty, number> = { short: 24, mixed: 38, long: 58 }

/** The whole fleet, in order of vehicle number; every vehicle has a random stream of its own. */
export function makeFleet(seed: string): Vehicle[] {
  const models = MODELS.flatMap((model) => Array.from({ length: model.count }, () => model))
  const order = makeRandom(`${seed}/order`)
  const shuffled = models.map((model) => ({ model, at: order.next() })).sort((a, b) => a.at - b.at)
  return shuffled.map(({ model }, i) => {
    const unit = `V-${String(i + 1).padStart(3, '0')}`
    return makeVehicle(unit, model, makeRandom(`${seed}/${unit}/who`))
  })
}

function makeVehicle(unit: string, model: Model, random: Random): Vehicle {
  const duty = random.pick(model.duties)
  const kmPerDay = (model.kmPerYear[duty] / 365) * Math.exp(0.2 * random.normal())
  const past = makePast(kmPerDay, random)
  const truck = model.familyKey === KNOT.key
  return {
    unit,
    familyKey: model.familyKey,
    family: model.family,
    variant: model.family && random.chance(0.85) ? random.pick(model.family.variants).key : null,
    site: random.pick(SITES),
    duty,
    tracker: random.chance(0.5) ? random.pick(['codes', 'lamp', 'lamp'] as const) : null,
    ...past,
    ...makeLeaving(past.firstDay, random),
    kmPerDay,
    season: random.chance(0.12) ? 'summer' : 'even',
    standsFrom: random.chance(0.02) ? -random.whole(90, 420) : null,
    kmPerHour: KM_PER_HOUR[duty] * Math.exp(0.12 * random.normal()),
    hoursFrom: truck && random.chance(0.65) ? -random.whole(300, 2190) : null,
    serviceEveryKm: model.serviceEveryKm,
    lateness: random.chance(0.03) ? random.between(1.2, 1.6) : random.between(0.88, 0.98),
    attention: random.between(0.04, 0.16),
    temper: Math.exp(0.12 * random.normal()),
    ...makeMisfortune(past, random),
    price: Math.round((model.price * random.between(0.9, 1.15)) / 100) * 100,
  }
}

/** New in the six years, already there when the records begin, or bought second-hand on the way. */
function makePast(kmPerDay: number, random: Random) {
  const dice = random.next()
  if (dice < 0.5) {
    const firstDay = -random.whole(120, -FIRST_DAY)
    return { origin: 'new' as const, inServiceOn: firstDay, firstDay, firstKm: random.whole(4, 60) }
  }
  const kept = dice < 0.72
  const firstDay = kept ? FIRST_DAY : -random.whole(150, 1900)
  const ageDays = kept ? random.whole(200, 1100) : random.whole(700, 2200)
  const firstKm = Math.round(ageDays * kmPerDay * random.between(0.8, 1.2))
  const origin = kept ? ('kept' as const) : ('bought' as const)
  return { origin, inServiceOn: firstDay - ageDays, firstDay, firstKm }
}

/** Those that have been here for three years and more may have gone again. */
function makeLeaving(firstDay: number, random: Random): Pick<Vehicle, 'leaves' | 'lastDay'> {
  if (firstDay > -1100 || !random.chance(0.12)) return { leaves: null, lastDay: 0 }
  return { leaves: random.pick(['sold', 'sold', 'retired'] as const), lastDay: -random.whole(40, 900) }
}

/** A few vehicles have a past, an exchanged instrument or a hole in their papers. */
function makeMisfortune(past: Pick<Vehicle, 'origin' | 'firstDay' | 'firstKm'>, random: Random) {
  const { origin, firstDay, firstKm } = past
  const cluster = random.chance(0.01) && firstDay < -900
  const lost = random.chance(0.02) && firstDay < -1500
  return {
    oldInvoices: origin === 'bought' && firstKm > 60000 && random.chance(0.06),
    newClusterOn: cluster ? -random.whole(200, 700) : null,
    papersLost: lost ? { from: -1240, to: -1060 } : null,
  }
}
