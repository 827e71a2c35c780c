/**
 * P(developing) at moments of a life that is over, given all of it: what was seen before, what was seen later, how it
 * ended. The forward–backward recursion of hidden Markov chains (Baum et al. 1970; Rabiner 1989) over the two states
 * that have not failed, with the transitions of the delay-time model.
 */
import type { LifeTables } from './life-table'
import type { LivedLife } from './lived-life'
import {
  advance,
  makeMasses,
  makeStrands,
  makeTransition,
  type Strands,
  sum,
  type Transition,
} from './strands'

/** By node, of a part that is sound and of one that develops: masses, or likelihoods of what comes later. */
type Pair = Pick<Strands, 'sound' | 'developing'>

/**
 * @param life its own `ways` are not asked: `tables` has a node for each way that it may be, with their shares
 * @param ages by rising age, none before the entry; the looks at an age have been when it is asked
 * @returns one chance an age; after the moment since which the part may have failed unseen, of what had not failed
 */
export function developingAt(life: LivedLife, ages: readonly number[], tables: LifeTables): Float64Array {
  const asked = new Float64Array(ages.length)
  const moments = momentsOf(life, ages)
  const strands = startOf(life, tables)
  const trace = new Trace(moments.age.length, tables.count)
  const step = makeTransition(tables.count)
  for (let m = 0; m < moments.age.length; m++) {
    const restarted = goTo(strands, moments.age[m]!, moments.odds[m]!, step)
    trace.write(m, step, strands, restarted)
  }
  const later = endOf(life, strands, step)
  for (let m = moments.age.length - 1; m >= 0; m--) {
    const asks = moments.asks[m]!
    if (asks >= 0) asked[asks] = trace.chanceAt(m, later)
    trace.goBack(m, moments.odds[m]!, later)
  }
  return asked
}

/** Looks and ages in the order of time; looks first where both are at one age. `asks` is the place of an age, or −1. */
function momentsOf({ looks, ending }: LivedLife, ages: readonly number[]) {
  const until = ending.kind === 'failed-since' ? ending.since : ending.age
  const moments = { age: [] as number[], odds: [] as number[], asks: [] as number[] }
  const add = (age: number, odds: number, asks: number) => {
    moments.age.push(age)
    moments.odds.push(odds)
    moments.asks.push(asks)
  }
  let next = 0
  const lookUpTo = (age: number) => {
    for (; next < looks.length && looks[next]!.age <= age; next++)
      add(looks[next]!.age, looks[next]!.odds, -1)
  }
  for (let i = 0; i < ages.length; i++) {
    const age = Math.min(ages[i]!, until)
    lookUpTo(age)
    add(age, 1, i)
  }
  lookUpTo(until)
  if (ending.kind === 'failed-since') add(until, 1, -1)
  return moments
}

function startOf({ startAge, developing, entry }: LivedLife, tables: LifeTables): Strands {
  const found = entry?.sound === true
  const begins = found ? { age: entry.age, developing: 0 } : { age: startAge, developing }
  const strands = makeStrands(
    tables,
    Array.from(tables.weight, (weight, node) => ({
      node,
      age: begins.age,
      sound: weight * (1 - begins.developing),
      developing: weight * begins.developing,
    })),
  )
  if (entry && !found && entry.age > startAge) enter(strands, entry.age)
  return strands
}

/** The watch begins: what came before tells nothing of the way the life was. */
function enter(strands: Strands, age: number): void {
  goTo(strands, age, 1, makeTransition(strands.node.length))
  const { tables, sound, developing } = strands
  for (let k = 0; k < sound.length; k++) {
    const weight = tables.weight[k]! / (sound[k]! + developing[k]!)
    sound[k] = sound[k]! * weight
    developing[k] = developing[k]! * weight
  }
}

/**
 * Lives on to an age and through a look there.
 *
 * @param step the way there is written to it
 * @returns whether the life so far gave a finding no mass; it then goes on as it was found
 */
function goTo(strands: Strands, age: number, odds: number, step: Transition): boolean {
  advance(strands, Math.max(age - strands.age[0]!, 0), step)
  const { sound, developing } = strands
  for (let k = 0; k < sound.length; k++) {
    developing[k] = developing[k]! * step.keep[k]! + sound[k]! * step.begin[k]!
    sound[k] = sound[k]! * step.stay[k]!
  }
  const kept = odds === 0 ? sum(sound) : odds === Number.POSITIVE_INFINITY ? sum(developing) : 1
  const restarted = !(kept > 0)
  if (restarted) swap(strands)
  for (let k = 0; k < sound.length; k++) {
    if (odds === Number.POSITIVE_INFINITY) sound[k] = 0
    else developing[k] = developing[k]! * odds
  }
  normalise(strands)
  return restarted
}

function swap({ sound, developing }: Pair): void {
  const kept = sound.slice()
  sound.set(developing)
  developing.set(kept)
}

/** Numbers kept of a moment and node: the step that led there, and the masses after its look. */
const KEPT = 5

/** The way of a life, kept for going back. */
class Trace {
  private readonly kept: Float64Array
  private readonly restarted: Uint8Array

  constructor(
    moments: number,
    private readonly nodes: number,
  ) {
    this.kept = new Float64Array(moments * nodes * KEPT)
    this.restarted = new Uint8Array(moments)
  }

  write(moment: number, { stay, begin, keep }: Transition, { sound, developing }: Pair, restarted: boolean) {
    this.restarted[moment] = restarted ? 1 : 0
    let at = moment * this.nodes * KEPT
    for (let k = 0; k < this.nodes; k++) {
      this.kept[at++] = stay[k]!
      this.kept[at++] = begin[k]!
      this.kept[at++] = keep[k]!
      this.kept[at++] = sound[k]!
      this.kept[at++] = developing[k]!
    }
  }

  chanceAt(moment: number, later: Pair): number {
    let s = 0
    let d = 0
    let at = moment * this.nodes * KEPT
    for (let k = 0; k < this.nodes; k++, at += KEPT) {
      s += this.kept[at + 3]! * later.sound[k]!
      d += this.kept[at + 4]! * later.developing[k]!
    }
    return d / (s + d)
  }

  /** What comes later, as seen from before the look of a moment and the step to it. */
  goBack(moment: number, odds: number, later: Pair): void {
    const { sound, developing } = later
    if (this.restarted[moment] === 1) {
      sound.fill(1)
      developing.fill(1)
      return
    }
    let at = moment * this.nodes * KEPT
    for (let k = 0; k < this.nodes; k++, at += KEPT) {
      const certain = odds === Number.POSITIVE_INFINITY
      const d = certain ? developing[k]! : developing[k]! * odds
      sound[k] = this.kept[at]! * (certain ? 0 : sound[k]!) + this.kept[at + 1]! * d
      developing[k] = this.kept[at + 2]! * d
    }
    normalise(later)
  }
}

/** The likelihood of the ending after the last look, by the state at that look; as if none where it has no mass. */
function endOf({ ending }: LivedLife, strands: Strands, step: Transition): Pair {
  const { tables, node, sound, developing } = strands
  advance(strands, Math.max(ending.age - strands.age[0]!, 0), step)
  const later = makeMasses(node.length)
  let mass = 0
  for (let k = 0; k < node.length; k++) {
    const ways = { stay: step.stay[k]!, begin: step.begin[k]!, keep: step.keep[k]! }
    const [s, d] = lastFactor(ending.kind, ways, tables.failRate[node[k]!]!)
    later.sound[k] = s
    later.developing[k] = d
    mass += s * sound[k]! + d * developing[k]!
  }
  if (mass > 0) return later
  later.sound.fill(1)
  later.developing.fill(1)
  return later
}

function lastFactor(
  kind: LivedLife['ending']['kind'],
  { stay, begin, keep }: { stay: number; begin: number; keep: number },
  failRate: number,
): [number, number] {
  switch (kind) {
    case 'failed':
      return [begin * failRate, keep * failRate]
    case 'failed-since':
      return [Math.max(1 - stay - begin, 0), 1 - keep]
    case 'developing':
    case 'noticed':
      return [begin, keep]
    case 'sound':
      return [stay, 0]
    case 'open':
      return [stay + begin, keep]
  }
}

function normalise({ sound, developing }: Pair): void {
  const total = sum(sound) + sum(developing)
  if (!(total > 0)) return
  for (let k = 0; k < sound.length; k++) {
    sound[k] = sound[k]! / total
    developing[k] = developing[k]! / total
  }
}
