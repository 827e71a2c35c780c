/**
 * How much of what can be known the product knows. Skill is 0 for mileage alone and 1 for the oracle, which
 * filters the same records exactly with the true parameters; in between it is linear in the mean loss.
 *
 * Mileage alone is taken at its best: for each weak point the mean true chance in ten equally filled classes of
 * odometer, fitted in hindsight to these very vehicles. Losses are measured without the noise of what happened
 * to happen: against the chance of failing given the true state of the part (`truth`), or against the oracle's
 * chance (`oracle`), which is the mean of the former given the records, so that both have the same expectation
 * and the second has less noise. `brier` is the mean squared difference, `log` the mean Kullback-Leibler
 * divergence: the excess of either score over what a forecaster who knew the reference would have.
 */
import { scoreFleet } from '@/lib/decisions/score-fleet'
import { groupByVehicle, type VehicleRecords } from '@/lib/records/vehicle-records'
import type { FleetFit } from '@/lib/scoring/family-fit'
import { fitFleet } from '@/lib/scoring/fit-fleet'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import type { Spread } from '@/lib/scoring/parameters'
import { askOracle } from './oracle'
import { type Truth, truthAsStated } from './truth'
import { stepBetween } from './two-stage'
import { plainAdvance, stateOf } from './vehicle-life'
import type { Snapshot, World } from './world'

export type Horizon = { days: number } | { km: number }

/** One part of one vehicle on one day, and what each forecaster says of it. */
export type Case = {
  unit: string
  weakPoint: string
  odometerKm: number
  /** The chance of failing within the horizon given the true state. */
  truth: number
  forecasts: Record<string, number>
}

export type Skill = { skill: number; standardError: number }
export type Measure = { loss: 'brier' | 'log'; against: 'truth' | 'oracle' }

/**
 * The forecasts of the oracle, of mileage alone, of the product (`stated`, `central`, `learned`) and of the exact joint
 * filter that believes the library's central values (`filter`).
 *
 * @param learning whether the product learns before it scores; else `learned` is `stated`
 */
export function forecastCases(world: World, horizon: Horizon, { learning }: { learning: boolean }): Case[] {
  const rows = new Map(groupByVehicle(world.records).map((one) => [one.vehicle.unit, one]))
  const days = [...new Set(world.snapshots.map((s) => s.day))].sort((a, b) => a - b)
  const product = days.map((day) => productForecasts(world, day, horizon, learning))
  const byUnit = grouped(world.snapshots, (s) => s.unit)
  const cases: Case[] = []
  for (const [unit, snapshots] of byUnit) {
    const first = snapshots[0]!
    const library = truthAsStated(first.network.family)
    const oracle = oracleForecasts(snapshots, rows.get(unit)!, first.truth, horizon)
    const filter = oracleForecasts(snapshots, rows.get(unit)!, library, horizon)
    snapshots.forEach((snapshot, s) => {
      const said = product[days.indexOf(snapshot.day)]!
      snapshot.network.parts.forEach(({ weakPoint, position }, index) => {
        const key = `${unit} ${weakPoint.key} ${position}`
        cases.push({
          unit,
          weakPoint: weakPoint.key,
          odometerKm: snapshot.odometerKm,
          truth: trueChance(snapshot, index, horizon),
          forecasts: { oracle: oracle[s]![index]!, filter: filter[s]![index]!, ...said.get(key)! },
        })
      })
    })
  }
  return withMileageAlone(cases)
}

function aheadOf({ kmPerDay }: Snapshot, horizon: Horizon) {
  if ('days' in horizon) return { km: horizon.days * kmPerDay, days: horizon.days }
  return { km: horizon.km, days: horizon.km / kmPerDay }
}

function oracleForecasts(snapshots: Snapshot[], rows: VehicleRecords, truth: Truth, horizon: Horizon) {
  const asOf = snapshots.map((s) => ({ day: s.day, odometerKm: s.odometerKm, ahead: aheadOf(s, horizon) }))
  const answers = askOracle({ network: snapshots[0]!.network, truth, rows, asOf })
  return answers.map((parts) => parts.map((part) => part.pFail))
}

function productForecasts({ records, library }: World, asOf: number, horizon: Horizon, learning: boolean) {
  const fleet = fleetVehicles(records, asOf)
  const ask = (how: { spread?: Spread; fit?: FleetFit }) =>
    scoreFleet({ records, fleet, library, asOf, horizons: [horizon], ...how }).vehicles.flatMap(
      (v) => v.components,
    )
  const [stated, central] = [ask({}), ask({ spread: 'central' })]
  const learned = learning ? ask({ fit: fitFleet({ fleet, library, asOf }) }) : stated
  const said = new Map<string, Record<'stated' | 'central' | 'learned', number>>()
  stated.forEach(({ unit, weakPoint, position, pFail }, i) => {
    const key = `${unit} ${weakPoint} ${position}`
    said.set(key, { stated: pFail, central: central[i]!.pFail, learned: learned[i]!.pFail })
  })
  return said
}

/** P(fails within the horizon | true state, true parameters), mean use; a neighbour upstream goes on too. */
function trueChance(snapshot: Snapshot, index: number, horizon: Horizon): number {
  const { network, lives } = snapshot
  const life = lives[index]!
  const hastened = network.links
    .filter((link) => link.to === index)
    .reduce((sum, link) => sum + (link.strength - 1) * meanNotSound(snapshot, link.from, horizon), 1)
  const step = stepBetween(
    life.parameters,
    life.age,
    life.age + advanceOf(snapshot, index, horizon) * hastened,
  )
  return stateOf(life) === 'sound' ? step.failSound : 1 - step.keep
}

/** Mean over the horizon of the chance that a part is not sound, by Simpson's rule. */
function meanNotSound(snapshot: Snapshot, index: number, horizon: Horizon): number {
  const life = snapshot.lives[index]!
  if (stateOf(life) !== 'sound') return 1
  const advance = advanceOf(snapshot, index, horizon)
  const soundAt = (share: number) => stepBetween(life.parameters, life.age, life.age + share * advance).stay
  return 1 - (1 + 4 * soundAt(0.5) + soundAt(1)) / 6
}

function advanceOf(snapshot: Snapshot, index: number, horizon: Horizon): number {
  const { weakPoint } = snapshot.network.parts[index]!
  const { km, days } = aheadOf(snapshot, horizon)
  return plainAdvance(weakPoint.clock, snapshot.duty, km, days) * weakPoint.duty[snapshot.duty]
}

const CLASSES = 10

function withMileageAlone(cases: Case[]): Case[] {
  for (const alike of grouped(cases, (c) => c.weakPoint).values()) {
    const sorted = [...alike].sort((a, b) => a.odometerKm - b.odometerKm)
    for (let k = 0; k < CLASSES; k++) {
      const from = Math.floor((k * sorted.length) / CLASSES)
      const inClass = sorted.slice(from, Math.floor(((k + 1) * sorted.length) / CLASSES))
      const mean = inClass.reduce((sum, c) => sum + c.truth, 0) / inClass.length
      for (const c of inClass) c.forecasts.mileage = mean
    }
  }
  return cases
}

const GROUPS = 20

/** Skill of a forecaster, with a standard error from leaving out a twentieth of the vehicles at a time. */
export function skillOf(cases: Case[], forecaster: string, { loss, against }: Measure): Skill {
  const units = new Map([...new Set(cases.map((c) => c.unit))].map((unit, i) => [unit, i % GROUPS]))
  const sums = Array.from({ length: GROUPS }, () => ({ mileage: 0, model: 0, oracle: 0 }))
  for (const c of cases) {
    const reference = against === 'truth' ? c.truth : c.forecasts.oracle!
    const group = sums[units.get(c.unit)!]!
    group.mileage += LOSSES[loss](c.forecasts.mileage!, reference)
    group.model += LOSSES[loss](c.forecasts[forecaster]!, reference)
    group.oracle += LOSSES[loss](c.forecasts.oracle!, reference)
  }
  const skillWithout = (left: number) => {
    const total = { mileage: 0, model: 0, oracle: 0 }
    sums.forEach((group, i) => {
      if (i === left) return
      total.mileage += group.mileage
      total.model += group.model
      total.oracle += group.oracle
    })
    return (total.mileage - total.model) / (total.mileage - total.oracle)
  }
  const partial = sums.map((_, i) => skillWithout(i))
  const mean = partial.reduce((sum, s) => sum + s, 0) / GROUPS
  const spread = partial.reduce((sum, s) => sum + (s - mean) ** 2, 0)
  return { skill: skillWithout(-1), standardError: Math.sqrt((spread * (GROUPS - 1)) / GROUPS) }
}

const LOSSES = {
  brier: (p: number, q: number) => (p - q) ** 2,
  log: (p: number, q: number) => divergence(q, p) + divergence(1 - q, 1 - p),
}

const divergence = (q: number, p: number) => (q > 0 ? q * Math.log(q / Math.max(p, 1e-12)) : 0)

function grouped<Item>(items: Item[], keyOf: (item: Item) => string): Map<string, Item[]> {
  const groups = new Map<string, Item[]>()
  for (const item of items) {
    const group = groups.get(keyOf(item))
    if (group) group.push(item)
    else groups.set(keyOf(item), [item])
  }
  return groups
}
