/**
 * Lives as flat arrays of what happens at which age, with all that does not depend on the parameters done: places on
 * the grid of ages, sums that are the same for every life, contradictions.
 *
 * A look or an ending to which the life so far gives no mass (found sound after it was found developing; developing
 * at the very age at which it was found sound) overrides: its factor is dropped, and it is counted.
 */
import type { EndingKind, LifeEnding, LifeWay, LivedLife } from '../lived-life'
import { type AgeGrid, ageGrid, placeOnGrid } from './age-grid'

/** What happens at a point of a life; what was scaled away so far is the life's value. */
export const Op = {
  /** The developing mass is multiplied. */
  look: 0,
  /** Sound here, developing with the odds of the point, not failed: the masses of a start. */
  begin: 1,
  /** Not failed so far: divided by S + D. */
  enter: 2,
  /** From here on its failing counts: S + D is kept. */
  since: 3,
  /** The value takes this mass; nothing follows but time spent developing. */
  takeDeveloping: 4,
  takeSound: 5,
  takeEither: 6,
  /** What S + D lost since the point `since`. */
  takeLost: 7,
  /** The hazard times S: failure without warning. */
  takeHazard: 8,
} as const

export type PackedLives = {
  grid: AgeGrid
  /** First point of each life, and one more. */
  start: Int32Array
  /** Odds of developing at age 0, where the life begins there. */
  startOdds: Float64Array
  ways: (readonly LifeWay[])[]
  op: Uint8Array
  age: Float64Array
  logAge: Float64Array
  cell: Int32Array
  /** Four a point: {@link placeOnGrid}. */
  weights: Float64Array
  odds: Float64Array
  sums: PackedSums
}

/** What the lives' likelihood contains beside what is done at the points. */
export type PackedSums = {
  /** Terms without a parameter. */
  constant: number
  /** Failures on record, failures seen later, developing parts noticed without a record. */
  failed: number
  failedSince: number
  noticed: number
  /** Time that parts known to be developing lived on. */
  decay: number
  /** Stretches in which parts known to be developing failed unseen. */
  gaps: number[]
  endings: Record<EndingKind, number>
  /** Findings that were dropped: without mass, or of developing where the part gives no warning. */
  contradictory: number
  withoutWarning: number
}

/** Takes the points of the lives, one after the other. */
type Points = { add(op: number, age: number, odds?: number): void }

/** Ages below this share of the greatest count as this share. */
const LEAST_AGE = 1e-9
/** Points of a life beside its looks, at most. */
const OTHER_POINTS = 4

/** @param warns whether δ > 0: without, looks say nothing of a part that has not failed */
export function packLives(lives: readonly LivedLife[], warns: boolean): PackedLives {
  const sums = noSums()
  const most = lives.reduce((count, life) => count + life.looks.length + OTHER_POINTS, 0)
  const [op, age, odds] = [new Uint8Array(most), new Float64Array(most), new Float64Array(most)]
  const start = new Int32Array(lives.length + 1)
  let count = 0
  const add = (what: number, at: number, by = 0) => {
    op[count] = what
    age[count] = at
    odds[count++] = by
  }
  lives.forEach((life, i) => {
    if (warns) traceWarned(life, { add }, sums)
    else tracePlain(life, { add }, sums)
    start[i + 1] = count
  })
  return {
    start,
    startOdds: Float64Array.from(lives, (life) => (warns && life.startAge === 0 ? startOdds(life) : 0)),
    ways: lives.map((life) => life.ways),
    op,
    odds,
    sums,
    ...placed(age.subarray(0, count)),
  }
}

/** The ages on a grid that spans them. */
function placed(age: Float64Array) {
  const greatest = age.reduce((most, at) => Math.max(most, at), 0) || 1
  let least = greatest
  for (let i = 0; i < age.length; i++) {
    age[i] = Math.max(age[i]!, greatest * LEAST_AGE)
    least = Math.min(least, age[i]!)
  }
  const grid = ageGrid(least, greatest)
  const logAge = age.map(Math.log)
  const weights = new Float64Array(age.length * 4)
  const cell = Int32Array.from(logAge, (at, i) => placeOnGrid(grid, at, weights, i * 4))
  return { grid, age, logAge, weights, cell }
}

function noSums(): PackedSums {
  const endings = { failed: 0, 'failed-since': 0, developing: 0, noticed: 0, sound: 0, open: 0 }
  const counts = { failed: 0, failedSince: 0, noticed: 0, contradictory: 0, withoutWarning: 0 }
  return { constant: 0, decay: 0, gaps: [], endings, ...counts }
}

const startOdds = ({ developing }: LivedLife) => developing / (1 - developing)

/** The points of a life with warning. */
function traceWarned(life: LivedLife, { add }: Points, sums: PackedSums): void {
  const { ending } = life
  const { entry, from, logSound } = beginning(life)
  const least = entry?.age ?? from.age
  /** Where it was last known to be sound; where it was found developing, null while it was not. */
  let soundAt = from.odds > 0 ? Number.NEGATIVE_INFINITY : from.age
  let developingAt: number | null = null

  if (from.age > 0) add(Op.begin, from.age, from.odds)
  if (entry) add(Op.enter, entry.age)
  sums.constant += logSound
  const endsAt = Math.max(ending.age, least)
  const until = ending.kind === 'failed-since' ? Math.max(ending.since, least) : endsAt
  for (const { age, odds } of life.looks) {
    if (age < least || age > until || odds === 1) continue
    if (odds === Number.POSITIVE_INFINITY) foundDeveloping(age)
    else if (odds === 0) foundSound(age)
    else if (developingAt === null) add(Op.look, age, odds)
    else sums.constant += Math.log(odds)
  }
  end()

  function foundDeveloping(age: number) {
    if (developingAt !== null) return
    const known = age > soundAt
    if (!known) sums.contradictory++
    add(known ? Op.takeDeveloping : Op.takeEither, age)
    developingAt = age
  }

  function foundSound(age: number) {
    if (developingAt === null) add(Op.look, age, 0)
    else {
      sums.contradictory++
      sums.decay += age - developingAt
      add(Op.begin, age)
      developingAt = null
    }
    soundAt = age
  }

  function end() {
    const kind = possible(ending)
    sums.endings[ending.kind]++
    if (kind !== ending.kind) sums.contradictory++
    if (kind === 'failed') sums.failed++
    if (kind === 'failed-since') sums.failedSince++
    if (kind === 'noticed') sums.noticed++
    if (developingAt !== null) endKnown(kind, developingAt)
    else if (kind === 'failed-since') {
      if (until > 0) add(Op.since, until)
      add(Op.takeLost, endsAt)
    } else add(TAKEN[kind], endsAt)
  }

  /** The ending, or S + D where the life so far gives it no mass. */
  function possible({ kind, age }: LifeEnding): EndingKind {
    if (kind === 'open') return kind
    if (kind === 'failed-since') return age > until ? kind : 'open'
    if (kind === 'sound') return developingAt === null ? kind : 'open'
    return endsAt > soundAt || developingAt !== null ? kind : 'open'
  }

  function endKnown(kind: EndingKind, since: number) {
    sums.decay += until - since
    if (kind === 'failed-since') sums.gaps.push(endsAt - until)
  }
}

/** The masses that a life begins with, and the entry that it is divided at, which leaves no constant. */
function beginning(life: LivedLife) {
  const { startAge, entry } = life
  const from = { age: startAge, odds: startOdds(life) }
  if (!entry || entry.age <= startAge) return { entry: null, from, logSound: Math.log1p(-life.developing) }
  if (entry.sound) return { entry: null, from: { age: entry.age, odds: 0 }, logSound: 0 }
  return { entry, from, logSound: 0 }
}

const TAKEN = {
  failed: Op.takeDeveloping,
  developing: Op.takeDeveloping,
  noticed: Op.takeDeveloping,
  sound: Op.takeSound,
  open: Op.takeEither,
} as const

/** The points of a life without warning: it is sound until it fails, whatever the looks say. */
function tracePlain({ startAge, entry, looks, ending }: LivedLife, { add }: Points, sums: PackedSums): void {
  const from = Math.max(startAge, entry?.age ?? 0)
  if (from > 0) add(Op.begin, from)
  const found = ending.kind === 'developing' || ending.kind === 'noticed'
  const inspected = looks.filter((look) => look.odds === Number.POSITIVE_INFINITY).length
  sums.withoutWarning += inspected + (found ? 1 : 0)
  sums.endings[ending.kind]++
  const age = Math.max(ending.age, from)
  const since = ending.kind === 'failed-since' ? Math.max(ending.since, from) : 0
  const hasFailed = ending.kind === 'failed' || ending.kind === 'failed-since'
  // Nothing fails at age 0, or within no time.
  const possible = age > since
  if (hasFailed && !possible) sums.contradictory++
  if (ending.kind === 'failed-since' && since > 0) add(Op.since, since)
  const taken = ending.kind === 'failed' ? Op.takeHazard : Op.takeLost
  add(hasFailed && possible ? taken : Op.takeSound, age)
}
