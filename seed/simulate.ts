import { Bench, hasFailed } from './bench'
import { engineHours, weekKm } from './driving'
import type { Vehicle } from './fleet'
import type { FamilyEntry } from './library/shape'
import { type Component, isDeveloping, type LifeMaker, makeLives } from './lives'
import { makeRandom, type Random } from './random'
import type { Logbook } from './rows'
import { Scribe } from './scribe'
import { makeSenses, type Senses, type Showing, signText } from './signs'
import { Workshop } from './workshop'

type Watch = {
  vehicle: Vehicle
  scribe: Scribe
  random: Random
  senses: Senses
  workshop: Workshop
  reported: Set<string>
}

/** Lives one vehicle through its years, week by week, and answers with what people wrote down about it. */
export function simulateVehicle(vehicle: Vehicle, seed: string): Logbook {
  const random = makeRandom(`${seed}/${vehicle.unit}/life`)
  const scribe = new Scribe(vehicle, random)
  const engine = vehicle.family ? startEngine(vehicle, vehicle.family, scribe, random) : null
  const dayOfWeek = random.whole(0, 6)
  let km = vehicle.firstKm
  scribe.reading(vehicle.firstDay, km, hoursAt(vehicle, vehicle.firstDay, km), 'handover')
  const weeks = Math.floor((vehicle.lastDay - dayOfWeek - vehicle.firstDay) / 7)
  for (let week = 1; week <= weeks; week++) {
    const day = vehicle.lastDay - dayOfWeek - 7 * (weeks - week)
    const drivenKm = weekKm(vehicle, day, random)
    km += drivenKm
    read(vehicle, scribe, week, day, km, random)
    if (!engine) continue
    const failed = engine.age(drivenKm)
    keepWatch(engine.watch, week, day, km)
    engine.watch.workshop.week(day, km, failed)
  }
  return scribe.book
}

function startEngine(vehicle: Vehicle, family: FamilyEntry, scribe: Scribe, random: Random) {
  const lives = makeLives(vehicle.familyKey, vehicle.variant, vehicle.temper, random)
  const components = makeComponents(vehicle, family, lives)
  const senses = makeSenses(family, components, random)
  const bench = new Bench(vehicle, components, lives, senses, scribe, random)
  const workshop = new Workshop(vehicle, bench, senses, scribe, random)
  const watch: Watch = { vehicle, scribe, random, senses, workshop, reported: new Set() }
  return { watch, age: (drivenKm: number) => ageAll(vehicle, family, components, drivenKm, random) }
}

function makeComponents(vehicle: Vehicle, family: FamilyEntry, lives: LifeMaker): Component[] {
  return family.weakPoints.flatMap((weakPoint) => {
    const clockAtStart = {
      distance: vehicle.firstKm * (weakPoint.duty?.[vehicle.duty] ?? 1),
      hours: engineHours(vehicle, vehicle.firstKm),
      time: vehicle.firstDay - vehicle.inServiceOn,
    }
    return Array.from({ length: weakPoint.positions ?? 1 }, (_, i) => ({
      weakPoint,
      position: i + 1,
      life: lives.met(weakPoint, clockAtStart[weakPoint.clock ?? 'distance']),
    }))
  })
}

/** Ages every part by one week, faster below a neighbour that leaks on it; answers with the breakdowns noticed. */
function ageAll(
  vehicle: Vehicle,
  family: FamilyEntry,
  components: Component[],
  km: number,
  random: Random,
): Component[] {
  const step = { distance: km, hours: engineHours(vehicle, km), time: 7 }
  for (const { weakPoint, life } of components) {
    let factor = weakPoint.duty?.[vehicle.duty] ?? 1
    for (const link of family.upstream) {
      const leaking =
        link.to === weakPoint.key && components.some((c) => c.weakPoint.key === link.from && isDeveloping(c))
      if (leaking) factor *= link.strength
    }
    const plain = step[weakPoint.clock ?? 'distance']
    life.age += plain * factor
    life.sinceRenewal += plain
  }
  return components.filter((c) => hasFailed(c) && (c.weakPoint.cost.daysOff > 0 || random.chance(0.1)))
}

const hoursAt = (vehicle: Vehicle, day: number, km: number): number | null =>
  vehicle.hoursFrom !== null && day >= vehicle.hoursFrom ? engineHours(vehicle, km) : null

function read(vehicle: Vehicle, scribe: Scribe, week: number, day: number, km: number, random: Random): void {
  if (vehicle.tracker) scribe.reading(day, km, hoursAt(vehicle, day, km), 'tracker')
  else if (week % 4 === 0 && random.chance(0.93)) {
    scribe.reading(day, km, hoursAt(vehicle, day, km), random.pick(['fuel card', 'driver', 'driver']))
  }
}

/** Between visits: the tracker sends what it can; drivers tell late, and only what can be seen or heard. */
function keepWatch(watch: Watch, week: number, day: number, km: number): void {
  const { vehicle, senses, workshop, reported } = watch
  const lit = senses.look('lamp', day)
  if (lit.length === 0) reported.clear()
  const fresh = lit.filter((showing) => !reported.has(signText(showing)))
  if (reportLamp(watch, fresh, week, day, km)) {
    for (const showing of fresh) reported.add(signText(showing))
    workshop.hearOf(fresh, day)
  }
  if (!watch.random.chance(vehicle.attention)) return
  const noticed = [...senses.look('road', day), ...senses.look('visual', day)].filter(
    (s) => !reported.has(signText(s)),
  )
  if (noticed.length === 0) return
  watch.scribe.check('report', day, km, noticed.map(signText))
  workshop.hearOf(noticed, day)
}

/** @returns true where somebody has now been told about the lamp. */
function reportLamp(
  { vehicle, scribe, random }: Watch,
  fresh: Showing[],
  week: number,
  day: number,
  km: number,
): boolean {
  if (fresh.length === 0) {
    if (vehicle.tracker && week % 4 === 1) scribe.check('lamp', day, km, [])
    return false
  }
  if (vehicle.tracker === 'codes') scribe.codes(day, km, fresh)
  else if (vehicle.tracker === 'lamp') scribe.check('lamp', day, km, ['lamp-on'])
  else if (fresh.some((s) => s.sign.stop) || random.chance(0.4)) scribe.check('report', day, km, ['lamp-on'])
  else return false
  return true
}
