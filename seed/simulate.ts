import { makeAgeing } from './ageing'
import { Bench, hasFailed } from './bench'
import { engineHours, weekKm } from './driving'
import type { FamilyEntry } from './library/shape'
import { type Component, type LifeMaker, makeLives } from './lives'
import { makeRandom, type Random } from './random'
import type { Logbook } from './rows'
import { Scribe } from './scribe'
import { makeSenses, type Senses, type Showing, signText } from './signs'
import type { Vehicle } from './vehicle'
import { Workshop, writeOtherWork } from './workshop'

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
  scribe.reading(vehicle.firstDay, km, hoursAt(vehicle, vehicle.firstDay, km), vehicle.habits.firstSource)
  const weeks = Math.floor((vehicle.lastDay - dayOfWeek - vehicle.firstDay) / 7)
  for (let week = 1; week <= weeks; week++) {
    const day = vehicle.lastDay - dayOfWeek - 7 * (weeks - week)
    const drivenKm = weekKm(vehicle, day, random)
    km += drivenKm
    read(vehicle, scribe, week, day, km, random)
    if (!engine) {
      if (random.chance(0.05)) writeOtherWork(scribe, day, km, random)
      continue
    }
    engine.age(drivenKm, 7)
    const failed = noticed(engine.components, random)
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
  return { watch, components, age: makeAgeing(vehicle, family, components) }
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

/** Breakdowns that somebody notices this week: some parts fail without stopping anything. */
const noticed = (components: readonly Component[], random: Random): Component[] =>
  components.filter((c) => hasFailed(c) && (c.weakPoint.cost.daysOff > 0 || random.chance(0.1)))

const hoursAt = (vehicle: Vehicle, day: number, km: number): number | null =>
  vehicle.hoursFrom !== null && day >= vehicle.hoursFrom ? engineHours(vehicle, km) : null

function read(vehicle: Vehicle, scribe: Scribe, week: number, day: number, km: number, random: Random): void {
  const hours = hoursAt(vehicle, day, km)
  const { everyWeeks, chance, sources, onceSold } = vehicle.habits.reading
  if (vehicle.tracker) scribe.reading(day, km, hours, 'tracker')
  else if (week % everyWeeks === 0 && random.chance(chance)) {
    const isSold = vehicle.sale !== null && day > vehicle.sale.on
    scribe.reading(day, km, hours, isSold && onceSold ? onceSold : random.pick(sources))
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
  const heard = [...senses.look('road', day), ...senses.look('visual', day)].filter(
    (s) => !reported.has(signText(s)),
  )
  if (heard.length === 0) return
  watch.scribe.check('report', day, km, heard.map(signText))
  workshop.hearOf(heard, day)
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
  else if (fresh.some((s) => s.sign.stop) || random.chance(vehicle.habits.tellsOfLamp))
    scribe.check('report', day, km, ['lamp-on'])
  else return false
  return true
}
