/**
 * Whole lives by the million: vehicles that all run the same course of looks and repairs, grouped by everything
 * that was written down about them. Made for frequencies; `world.ts` is the richer simulation.
 */
import type { Family } from '@/lib/records/library'
import type { CheckRow, Records, RepairRow, SignAt } from '@/lib/records/rows'
import { findsSign, type Network, networkOf } from './network'
import { type Random, seeded } from './random'
import { checkRow, readingRow, recordsOf, repairRow, vehicleRow } from './record-rows'
import { parametersOfLife, truthAsStated } from './truth'
import { drawOnset, type Parameters } from './two-stage'

/** What happens at a fixed odometer, to every vehicle or only where a sign showed at the look before. */
export type Occasion = { km: number; onlyIfSeen?: string } & (
  | { look: CheckRow['kind'] }
  | {
      weakPoint: string
      position?: number
      /** `open` inspects, and renews what is found developing. */
      action: 'open' | 'inspect' | 'renew' | 'partial' | 'temporary'
      revision?: string
      /** Whether anyone writes down the state it was in. */
      writesFound: boolean
      because: NonNullable<RepairRow['because']>
    }
)

/** The course of a life; a part that fails is renewed at once and found failed. Clocks count distance. */
export type Course = {
  family: Family
  occasions: Occasion[]
  asOfKm: number
  horizonKm: number
  /** Nothing before this odometer is on record (occasions begin after it); 0: watched from new. */
  watchedFromKm?: number
  /** Keeps `renewEvery` of the library before the watch. */
}

/** Vehicles of which the same was written down, save where within a stretch of `BIN_KM` a part failed. */
export type Pattern = {
  /** The records of a vehicle like these. */
  history: Entry[]
  lives: number
  /** By part, how many are developing at the as-of odometer, and how many fail within the horizon. */
  developing: Float64Array
  failing: Float64Array
}

/** Patterns that differ only in where within an interval between occasions a part failed. */
export type PatternFamily = { name: string; lives: number; patterns: Pattern[] }

type Entry = { km: number } & (
  | { kind: CheckRow['kind']; seen: number[] }
  | {
      part: number
      action: RepairRow['action']
      revision: string | null
      found: Found
      because: RepairRow['because']
    }
)
type Found = RepairRow['found']
type Part = { parameters: Parameters; start: number; onsetKm: number; failKm: number; renewedKm: number }

export const FIRST_DAY = 17_000
const KM_PER_DAY = 60
const BIN_KM = 1_000
const WINDOW_KM = 1_500 // at 60 km a day always reached before 30 days

export const dayAt = (km: number) => FIRST_DAY + Math.round(km / KM_PER_DAY)

/** Lives `count` vehicles through a course; the same seed gives the same lives. */
export function liveMany(course: Course, count: number, seed: number): PatternFamily[] {
  const network = networkOf(course.family)
  const random = seeded(seed)
  const patterns = new Map<string, Pattern>()
  const live = oneLife(course, network, random)
  for (let n = 0; n < count; n++) {
    const { key, history, parts } = live()
    let pattern = patterns.get(key)
    if (!pattern) {
      pattern = { history, lives: 0, developing: zeros(parts), failing: zeros(parts) }
      patterns.set(key, pattern)
    }
    pattern.lives++
    for (let i = 0; i < parts.length; i++) {
      if (parts[i]!.onsetKm <= course.asOfKm) pattern.developing[i]!++
      if (parts[i]!.failKm <= course.asOfKm + course.horizonKm) pattern.failing[i]!++
    }
  }
  return inFamilies(patterns)
}

const zeros = (like: unknown[]) => new Float64Array(like.length)

function inFamilies(patterns: Map<string, Pattern>): PatternFamily[] {
  const families = new Map<string, PatternFamily>()
  for (const [key, pattern] of patterns) {
    const name = key.replaceAll(/~\d+/g, '')
    const family = families.get(name) ?? { name, lives: 0, patterns: [] }
    families.set(name, family)
    family.lives += pattern.lives
    family.patterns.push(pattern)
  }
  return [...families.values()].sort((a, b) => b.lives - a.lives)
}

function oneLife({ family, occasions, asOfKm, watchedFromKm = 0 }: Course, network: Network, random: Random) {
  const truth = truthAsStated(family)
  const signs = network.signs.map(({ sign, causes }) => ({ sign, causes }))
  const windows = signs.map(() => ({ km: Number.NEGATIVE_INFINITY, seen: false }))
  const parts: Part[] = network.parts.map(({ weakPoint }) => {
    const parameters = parametersOfLife(truth, weakPoint.key, null)
    return { parameters, start: 0, onsetKm: 0, failKm: 0, renewedKm: 0 }
  })
  let key = ''
  let history: Entry[] = []

  /** A life from virtual age `age` at odometer `km`; a renewal leaves a defect in with chance 1 − success. */
  function begin(index: number, km: number, age: number, revision: string | null, original: boolean) {
    const part = parts[index]!
    const { weakPoint } = network.parts[index]!
    part.parameters = parametersOfLife(truth, weakPoint.key, revision)
    part.start = km - age
    const { pfMean } = part.parameters
    const flawed = !original && pfMean > 0 && !random.chance(weakPoint.success)
    part.onsetKm = flawed ? km : km - age + drawOnset(part.parameters, age, random)
    part.failKm = part.onsetKm + (pfMean > 0 ? random.exponential(pfMean) : 0)
    if (original) return
    for (let s = 0; s < signs.length; s++) {
      if (signs[s]!.causes.some((c) => c.part === index)) windows[s]!.km = Number.NEGATIVE_INFINITY
    }
  }

  /** Failures up to `km`, and renewals at an interval that earlier owners kept, each renewed at once. */
  function runTo(km: number) {
    for (;;) {
      let first = 0
      for (let i = 1; i < parts.length; i++) if (nextOf(i) < nextOf(first)) first = i
      const at = nextOf(first)
      if (at > km) return
      if (at > watchedFromKm) {
        const bin = Math.floor(at / BIN_KM)
        key += `F${first}~${bin} `
        const found = { found: 'failed', because: 'failure', action: 'renew', revision: null } as const
        history.push({ km: (bin + 0.5) * BIN_KM, part: first, ...found })
      }
      begin(first, at, 0, null, false)
      parts[first]!.renewedKm = at
    }
  }

  function nextOf(index: number): number {
    const { failKm, renewedKm } = parts[index]!
    const due = renewedKm + (network.parts[index]!.weakPoint.renewEvery ?? Number.POSITIVE_INFINITY)
    return due <= watchedFromKm ? Math.min(failKm, due) : failKm
  }

  function look(km: number, kind: CheckRow['kind']) {
    const seen: number[] = []
    for (let s = 0; s < signs.length; s++) {
      const { sign, causes } = signs[s]!
      if (!findsSign(kind, sign)) continue
      const window = windows[s]!
      if (km - window.km >= WINDOW_KM) {
        let absent = 1 - sign.leak
        for (const { part, detect } of causes) if (parts[part]!.onsetKm <= km) absent *= 1 - detect
        window.km = km
        window.seen = !random.chance(absent)
      }
      if (window.seen) seen.push(s)
    }
    key += `${kind}${seen.join(',')} `
    history.push({ km, kind, seen })
    return seen
  }

  function work(km: number, occasion: Extract<Occasion, { weakPoint: string }>) {
    const { weakPoint, position = 1, writesFound, because } = occasion
    const index = network.parts.findIndex((p) => p.weakPoint.key === weakPoint && p.position === position)
    const part = parts[index]!
    const state = part.onsetKm <= km ? 'developing' : 'sound'
    const opened = state === 'developing' ? 'renew' : 'inspect'
    const action = occasion.action === 'open' ? opened : occasion.action
    const revision = occasion.revision ?? null
    const found = writesFound ? state : null
    key += `${action}${index}${found ?? ''} `
    history.push({ km, part: index, action, revision, found, because })
    const restored = network.parts[index]!.weakPoint.restored
    if (action !== 'inspect') {
      begin(index, km, action === 'partial' ? (1 - restored) * (km - part.start) : 0, revision, false)
    }
  }

  return function live() {
    key = ''
    history = []
    for (const window of windows) window.km = Number.NEGATIVE_INFINITY
    parts.forEach((part, index) => {
      part.renewedKm = 0
      begin(index, 0, 0, null, true)
    })
    let seen: number[] = []
    for (const occasion of occasions) {
      if (occasion.onlyIfSeen && !seen.some((s) => signs[s]!.sign.key === occasion.onlyIfSeen)) continue
      runTo(occasion.km)
      if ('look' in occasion) seen = look(occasion.km, occasion.look)
      else work(occasion.km, occasion)
    }
    runTo(asOfKm)
    return { key, history, parts }
  }
}

/** A fleet with one vehicle for each pattern, in order; scored on `dayAt(course.asOfKm)`. */
export function recordsOfPatterns(course: Course, patterns: Pattern[]): Records {
  const network = networkOf(course.family)
  const { asOfKm, watchedFromKm = 0 } = course
  const records = recordsOf({})
  patterns.forEach(({ history }, n) => {
    const unit = `P${n}`
    const born = { builtOn: FIRST_DAY, inServiceOn: FIRST_DAY }
    const watch = { watchedFromOn: dayAt(watchedFromKm), watchedFromKm, history: 'none' } as const
    records.vehicles.push(
      vehicleRow({ unit, family: course.family.key, ...born, ...(watchedFromKm > 0 ? watch : {}) }),
    )
    for (const km of [watchedFromKm, asOfKm]) {
      records.readings.push(readingRow({ unit, readOn: dayAt(km), odometerKm: km }))
    }
    for (const entry of history) addEntry(records, network, unit, entry)
  })
  return records
}

function addEntry(records: Records, { parts, signs }: Network, unit: string, entry: Entry) {
  const odometerKm = entry.km
  if ('kind' in entry) {
    const seen = entry.seen.map((s): SignAt => ({ sign: signs[s]!.sign.key, position: signs[s]!.position }))
    records.checks.push(checkRow({ unit, odometerKm, checkedOn: dayAt(entry.km), kind: entry.kind, seen }))
    return
  }
  const { part, action, revision, found, because } = entry
  const { weakPoint, position } = parts[part]!
  const what = { weakPoint: weakPoint.key, positions: [position], action, revision, found, because }
  records.repairs.push(repairRow({ unit, odometerKm, doneOn: dayAt(entry.km), ...what }))
}
