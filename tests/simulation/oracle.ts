/**
 * A Bayesian filter that knows the true parameters and keeps the whole joint distribution: one mass for every
 * combination of sound and developing parts (2ⁿ for n parts that share signs), moved by each part's own
 * two-stage step and multiplied by the noisy-OR of every look. Nothing is projected, merged or tabulated, so it
 * is exact, save that a part downstream ages by the expected exposure to its upstream neighbour.
 *
 * It reads the same rows as the product: windows of repeated looks, findings, renewals with a chance of failing.
 * It knows vehicles watched from new; it does not know `lamp-on`, codes cleared, permanent codes and changes.
 */
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import type { Day } from '@/lib/units/dates'
import { Exposure } from './exposure'
import { Joint } from './joint'
import { codesAt, findsSign, type Network } from './network'
import { parametersOfLife, type Truth } from './truth'
import { type Parameters, stepBetween } from './two-stage'
import { type Duty, plainAdvance } from './vehicle-life'

export type OracleQuestion = {
  network: Network
  truth: Truth
  rows: VehicleRecords
  /** Ascending; at each of these days it sees the rows up to that day and is asked about a horizon. */
  asOf: Moment[]
}

export type Moment = { day: Day; odometerKm: number; ahead: { km: number; days: number } }

export type OracleAnswer = { pDeveloping: number; pFail: number }

export type Look = { entry: number; seen: boolean }
export type Event = { day: Day; km: number } & (
  | { looks: Look[] }
  | { repair: VehicleRecords['repairs'][number] }
)
export type LookWindow = { day: Day; km: number; seen: boolean }
type Life = { parameters: Parameters; plainAge: number; age: number }

const WINDOW_DAYS = 30
const WINDOW_KM = 1500

/** By moment, one answer a part in the order of `network.parts`. */
export function askOracle({ network, truth, rows, asOf }: OracleQuestion): OracleAnswer[][] {
  const { parts, signs, links } = network
  const duty: Duty = rows.vehicle.duty
  const start = rows.vehicle.inServiceOn
  if (start === null || rows.vehicle.history !== 'full') throw new Error('the oracle knows vehicles from new')
  const joint = new Joint(network)
  const exposures = links.map(() => new Exposure())
  const windows: (LookWindow | null)[] = signs.map(() => null)
  const lives = parts.map(({ weakPoint }): Life => {
    return { parameters: parametersOfLife(truth, weakPoint.key, null), plainAge: 0, age: 0 }
  })
  const order = inUpstreamOrder(network)
  let now = { day: start, km: 0 }

  function plain(index: number, km: number, days: number): number {
    const { weakPoint } = parts[index]!
    return plainAdvance(weakPoint.clock, duty, km, days) * weakPoint.duty[duty]
  }

  function moveTo(day: Day, km: number) {
    if (km > now.km || day > now.day) for (const index of order) moveLife(index, km - now.km, day - now.day)
    joint.normalise()
    now = { day, km }
  }

  function moveLife(index: number, km: number, days: number) {
    const life = lives[index]!
    const advance = plain(index, km, days)
    life.plainAge += advance
    const age = Math.max(life.age + 0.2 * advance, life.plainAge + hastenedBy(index))
    const step = stepBetween(life.parameters, life.age, age)
    const before = joint.developing(index)
    joint.move(index, step)
    life.age = age
    links.forEach((link, l) => {
      if (link.from !== index) return
      exposures[l]!.grow(before * step.keep, (1 - before) * step.onset, plain(link.to, km, days))
    })
  }

  /** Extra age from what lies upstream, by expectation. */
  function hastenedBy(index: number): number {
    return links.reduce((extra, link, l) => {
      const since = link.to === index ? exposures[l]!.since(joint.developing(link.from)) : 0
      return extra + (link.strength - 1) * since
    }, 0)
  }

  /**
   * News from upstream changes how old a part is held to be, but it has lived that age already: nothing is
   * survived anew. (Measured against `linked-pair.ts`; ageing through the change doubles the error.)
   */
  function reviseAges() {
    lives.forEach((life, index) => {
      if (links.some((link) => link.to === index)) life.age = life.plainAge + Math.max(0, hastenedBy(index))
    })
  }

  function look({ entry, seen }: Look) {
    if (isRepeat(windows[entry], now, seen)) return
    windows[entry] = { ...now, seen }
    joint.look(entry, seen)
  }

  function repair(row: VehicleRecords['repairs'][number]) {
    const found = row.found ?? (row.because === 'failure' ? 'failed' : null)
    for (const position of row.positions) {
      const index = parts.findIndex((p) => p.weakPoint.key === row.weakPoint && p.position === position)
      if (index < 0) continue
      const life = lives[index]!
      if (found === 'sound') joint.know(index, false)
      if (found !== null && found !== 'sound' && life.parameters.pfMean > 0) joint.know(index, true)
      if (row.action !== 'inspect') beginLife(index, row)
    }
  }

  function beginLife(index: number, row: VehicleRecords['repairs'][number]) {
    const { weakPoint } = parts[index]!
    const parameters = parametersOfLife(truth, weakPoint.key, row.revision)
    const age = row.action === 'partial' ? (1 - (row.restored ?? weakPoint.restored)) * lives[index]!.age : 0
    links.forEach((link, l) => {
      if (link.from === index) exposures[l]!.close(joint.developing(index))
      if (link.to === index) exposures[l]!.restart(joint.developing(link.from))
    })
    lives[index] = { parameters, plainAge: age, age }
    joint.renew(index, parameters.pfMean > 0 ? 1 - weakPoint.success : 0)
    signs.forEach(({ causes }, entry) => {
      if (causes.some((c) => c.part === index)) windows[entry] = null
    })
  }

  function apply(event: Event) {
    moveTo(event.day, event.km)
    if ('repair' in event) repair(event.repair)
    else event.looks.forEach(look)
    reviseAges()
    joint.normalise()
  }

  function answer({ km, days }: Moment['ahead']): OracleAnswer[] {
    return parts.map((_, index) => ({
      pDeveloping: joint.developing(index),
      pFail: chanceOfFailing(index, km, days),
    }))
  }

  const events = eventsOf(rows, network)
  return asOf.map(({ day, odometerKm, ahead }) => {
    while (events[0] && events[0].day <= day) apply(events.shift()!)
    moveTo(day, odometerKm)
    return answer(ahead)
  })

  function chanceOfFailing(index: number, km: number, days: number): number {
    const hastened = links.map((link) =>
      link.to === index ? (link.strength - 1) * meanNotSound(link.from, km, days) : 0,
    )
    const { parameters, age } = lives[index]!
    const step = stepBetween(parameters, age, age + plain(index, km, days) * (1 + sum(hastened)))
    const p = joint.developing(index)
    return p * (1 - step.keep) + (1 - p) * step.failSound
  }

  /** Mean over the horizon of the chance that a part is developing or has failed (Simpson's rule). */
  function meanNotSound(index: number, km: number, days: number): number {
    const { parameters, age } = lives[index]!
    const sound = [0, 0.5, 1].map((share) => {
      return stepBetween(parameters, age, age + plain(index, km * share, days * share)).stay
    })
    return 1 - ((1 - joint.developing(index)) * (sound[0]! + 4 * sound[1]! + sound[2]!)) / 6
  }
}

/** Whether a look only repeats what an open window knows; absent at first and then seen is news. */
export function isRepeat(
  open: LookWindow | null | undefined,
  now: { day: Day; km: number },
  seen: boolean,
): boolean {
  if (!open || now.day - open.day >= WINDOW_DAYS || now.km - open.km >= WINDOW_KM) return false
  return open.seen || !seen
}

/** Upstream parts first, so that a step of the neighbour knows how they stand at its end. */
function inUpstreamOrder({ parts, links }: Network): number[] {
  const depth = (index: number): number =>
    links.reduce((deepest, l) => (l.to === index ? Math.max(deepest, 1 + depth(l.from)) : deepest), 0)
  return parts.map((_, index) => index).sort((a, b) => depth(a) - depth(b))
}

/** Codes, then checks, then repairs of each day, each in the order in which they were written down. */
export function eventsOf(rows: VehicleRecords, network: Network): Event[] {
  const { signs } = network
  const byCode = new Map(signs.flatMap((s, i) => codesAt(s).map((code) => [code, i] as const)))
  const codes = rows.codes.flatMap((row): Event[] => {
    const entry = byCode.get(row.code)
    const at = { day: row.seenOn, km: known(row.odometerKm) }
    return entry === undefined ? [] : [{ ...at, looks: [{ entry, seen: true }] }]
  })
  const checks = rows.checks.map((row): Event => {
    const named = (list: typeof row.seen, entry: (typeof signs)[number]) =>
      list.some((s) => s.sign === entry.sign.key && (s.position ?? entry.position) === entry.position)
    const looks = signs.flatMap((s, entry): Look[] => {
      const seen = named(row.seen, s)
      const looked = row.lookedFor ? named(row.lookedFor, s) : findsSign(row.kind, s.sign)
      return seen || looked ? [{ entry, seen }] : []
    })
    return { day: row.checkedOn, km: known(row.odometerKm), looks }
  })
  const repairs = rows.repairs.map((row): Event => {
    return { day: row.doneOn, km: known(row.odometerKm), repair: row }
  })
  return [...codes, ...checks, ...repairs].sort((a, b) => a.day - b.day) // stable: the order within a day stays
}

const sum = (values: number[]) => values.reduce((total, value) => total + value, 0)

function known(km: number | null): number {
  if (km === null) throw new Error('the oracle needs an odometer on every row')
  return km
}
