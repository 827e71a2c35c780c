/**
 * The exact filter of two parts of which one hastens the ageing of the other. Whether each is sound or
 * developing, and how far the lower one has run beside a developing upper one, are Markov together; so a mass
 * for each state and each exposure on a grid leaves nothing out but the width of the grid. It judges the expected
 * exposure that the product and the larger oracle reckon with.
 */
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import type { Network } from './network'
import { type Event, eventsOf, isRepeat, type LookWindow, type Moment, type OracleAnswer } from './oracle'
import { parametersOfLife, type Truth } from './truth'
import { type Parameters, type Step, stepBetween } from './two-stage'

const GRID_KM = 800
const CELLS = 350
const LONGEST_STEP_KM = 1_600

/** Bits of a state: the upper part is developing, the lower part is developing. */
const UPPER = 1
const LOWER = 2

type Life = { parameters: Parameters; age: number }
/** By state, the mass of each exposure. */
type Masses = Float64Array[]

/**
 * @param network a family of exactly two parts with one link from the first to the second, clocks of distance
 * @returns by moment, the answers for the two parts
 */
export function askLinkedPair(
  network: Network,
  truth: Truth,
  rows: VehicleRecords,
  asOf: Moment[],
): OracleAnswer[][] {
  const { parts, signs, links } = network
  const [link] = links
  if (parts.length !== 2 || links.length !== 1 || link?.from !== 0) throw new Error('not a linked pair')
  const dutyOf = (part: number) => parts[part]!.weakPoint.duty[rows.vehicle.duty]
  const excess = link.strength - 1
  const windows: (LookWindow | null)[] = signs.map(() => null)
  const lives = parts.map(({ weakPoint }): Life => {
    return { parameters: parametersOfLife(truth, weakPoint.key, null), age: 0 }
  })
  let masses = noMasses()
  masses[0]![0] = 1
  let now = { day: rows.vehicle.inServiceOn ?? 0, km: 0 }

  const upperStep = (from: number, km: number): Step =>
    stepBetween(lives[0]!.parameters, from, from + km * dutyOf(0))

  /** Both drive on; the lower part's age is its own and the excess of what it was exposed to. */
  function driven(
    before: Masses,
    upper: Pick<Step, 'stay' | 'onset' | 'keep'>,
    lowerAge: number,
    km: number,
  ) {
    const plain = km * dutyOf(1)
    // sound throughout, begins on the way, developing throughout: exposed for nothing, half and all of it
    const paths = [
      { from: 0, to: 0, chance: upper.stay, exposure: 0 },
      { from: 0, to: UPPER, chance: upper.onset, exposure: plain / 2 },
      { from: UPPER, to: UPPER, chance: upper.keep, exposure: plain },
    ]
    const after = noMasses()
    for (let cell = 0; cell < CELLS; cell++) {
      if (before.every((mass) => mass[cell] === 0)) continue
      const age = lowerAge + excess * cell * GRID_KM
      for (const { from, to, chance, exposure } of paths) {
        const step = stepBetween(lives[1]!.parameters, age, age + plain + excess * exposure)
        const sound = before[from]![cell]! * chance
        const developing = before[from | LOWER]![cell]! * chance
        addAt(after[to]!, cell, exposure, sound * step.stay)
        addAt(after[to | LOWER]!, cell, exposure, sound * step.onset + developing * step.keep)
      }
    }
    return after
  }

  function moveTo(day: number, km: number) {
    const steps = Math.ceil((km - now.km) / LONGEST_STEP_KM)
    const length = (km - now.km) / steps
    for (let i = 0; i < steps; i++) {
      masses = driven(masses, upperStep(lives[0]!.age, length), lives[1]!.age, length)
      lives.forEach((life, part) => {
        life.age += length * dutyOf(part)
      })
      normalise()
    }
    now = { day, km }
  }

  function weigh(factor: (state: number) => number) {
    masses.forEach((mass, state) => {
      for (let cell = 0; cell < mass.length; cell++) mass[cell]! *= factor(state)
    })
    normalise()
  }

  function normalise() {
    const total = massWhere(masses, () => true)
    for (const mass of masses) for (let cell = 0; cell < mass.length; cell++) mass[cell]! /= total
  }

  function apply(event: Event) {
    moveTo(event.day, event.km)
    if ('repair' in event) return repair(event.repair)
    for (const { entry, seen } of event.looks) {
      if (isRepeat(windows[entry], now, seen)) continue
      windows[entry] = { ...now, seen }
      const { sign, causes } = signs[entry]!
      weigh((state) => {
        const absent = causes.reduce(
          (a, c) => (state & (1 << c.part) ? a * (1 - c.detect) : a),
          1 - sign.leak,
        )
        return seen ? 1 - absent : absent
      })
    }
  }

  function repair(row: VehicleRecords['repairs'][number]) {
    const index = parts.findIndex((p) => p.weakPoint.key === row.weakPoint)
    const bit = 1 << index
    if (row.found) weigh((state) => (((state & bit) !== 0) === (row.found !== 'sound') ? 1 : 0))
    if (row.action === 'inspect') return
    const { weakPoint } = parts[index]!
    const kept = row.action === 'partial' ? 1 - (row.restored ?? weakPoint.restored) : 0
    const renewed = noMasses()
    masses.forEach((mass, state) => {
      mass.forEach((m, cell) => {
        const exposure = (index === 1 ? kept : 1) * cell * GRID_KM
        addAt(renewed[state & ~bit]!, 0, exposure, m * weakPoint.success)
        addAt(renewed[state | bit]!, 0, exposure, m * (1 - weakPoint.success))
      })
    })
    masses = renewed
    const parameters = parametersOfLife(truth, weakPoint.key, row.revision)
    lives[index] = { parameters, age: kept * lives[index]!.age }
    signs.forEach(({ causes }, entry) => {
      if (causes.some((c) => c.part === index)) windows[entry] = null
    })
  }

  function upperFails(km: number): number {
    const { keep, failSound } = upperStep(lives[0]!.age, km)
    const developing = massWhere(masses, (state) => (state & UPPER) !== 0)
    return developing * (1 - keep) + (1 - developing) * failSound
  }

  /** Nobody looks and nothing is done: an upper part that has failed goes on harming the lower one. */
  function lowerFails(km: number): number {
    const steps = Math.ceil(km / LONGEST_STEP_KM)
    const length = km / steps
    let ahead = masses
    for (let i = 0; i < steps; i++) {
      const { stay } = upperStep(lives[0]!.age + i * length * dutyOf(0), length)
      ahead = driven(
        ahead,
        { stay, onset: 1 - stay, keep: 1 },
        lives[1]!.age + i * length * dutyOf(1),
        length,
      )
    }
    return 1 - massWhere(ahead, () => true)
  }

  const events = eventsOf(rows, network)
  return asOf.map(({ day, odometerKm, ahead }) => {
    while (events[0] && events[0].day <= day) apply(events.shift()!)
    moveTo(day, odometerKm)
    return [
      { pDeveloping: massWhere(masses, (state) => (state & UPPER) !== 0), pFail: upperFails(ahead.km) },
      { pDeveloping: massWhere(masses, (state) => (state & LOWER) !== 0), pFail: lowerFails(ahead.km) },
    ]
  })
}

const noMasses = (): Masses => Array.from({ length: 4 }, () => new Float64Array(CELLS + 1))

function massWhere(masses: Masses, wanted: (state: number) => boolean): number {
  let total = 0
  masses.forEach((mass, state) => {
    if (wanted(state)) for (let cell = 0; cell < mass.length; cell++) total += mass[cell]!
  })
  return total
}

/** Adds a mass at `cell` and a distance beyond it, split between the two nearest cells. */
function addAt(mass: Float64Array, cell: number, beyondKm: number, added: number) {
  const at = Math.min(cell + beyondKm / GRID_KM, CELLS - 1)
  const left = Math.floor(at)
  mass[left]! += added * (1 - (at - left))
  mass[left + 1]! += added * (at - left)
}
