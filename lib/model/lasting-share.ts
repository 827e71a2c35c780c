/**
 * The share of parts that lasts beyond an age, estimated without assuming any form: a step at each age at which some
 * went, none between.
 */
import type { FollowedTime } from './followed-time'
import { type EventCells, eventCells } from './inner/event-cells'

/** From `age` on, and up to the next step, the share `lasts`. */
export interface LastingStep {
  age: number
  lasts: number
  /**
   * Its standard error, by Greenwood (1926): lasts·√Σ gone/(at risk·(at risk − gone)). Events that are shared out
   * between looks count as if they had been seen, which makes it too small there.
   */
  error: number
}

export type LastingShare =
  | {
      ok: true
      /** By rising age; before the first of them the share is 1. */
      steps: LastingStep[]
      rounds: number
    }
  | { ok: false; reason: 'no-convergence' }

/** No step wants to grow by more than this share of itself any more, or to shrink by more than this of an event. */
const SETTLED = 1e-7
const MOST_ROUNDS = 100_000

/**
 * The likeliest share that lasts. Where every moment is known or following ended, this is the product-limit estimate
 * (Kaplan & Meier 1958), those at risk at an age being the ones followed from before it; then one round is enough.
 * Times known only to lie between two looks share their event out over the steps between them, by how likely each
 * step is, until that agrees with itself (Turnbull 1974, 1976, J. R. Statist. Soc. B 38, 290–295; with the
 * correction of the steps for left truncation of Frydman 1994). Within a step nobody can tell when; it stands at its
 * end. All sources from memory.
 *
 * Where following begins late, the first steps rest on the few who were followed by then, and one event among them may
 * take all that lasts: ask from an age on by which many are followed.
 *
 * Sorting costs O(n log n), a round as much as there are steps and times that lie between two looks.
 */
export function lastingShare(times: readonly FollowedTime[]): LastingShare {
  const cells = eventCells(times)
  let hazard = new Float64Array(cells.ends.length).fill(0.5)
  for (let round = 1; round <= MOST_ROUNDS; round++) {
    const events = expectedEvents(hazard, cells)
    const atRisk = numberAtRisk(events, cells)
    const settled = reached(hazard).every((j) => isSettled(events[j]!, hazard[j]! * atRisk[j]!))
    hazard = events.map((count, j) => (atRisk[j]! > 0 ? Math.min(count / atRisk[j]!, 1) : 0))
    if (cells.between.length === 0 || settled)
      return { ok: true, steps: stepsOf(hazard, events, atRisk, cells), rounds: round }
  }
  return { ok: false, reason: 'no-convergence' }
}

/** Beyond an age that none outlasts, whatever was seen there says nothing more. */
const OUTLASTED = 1e-9

/** The cells before which something lasts. */
function reached(hazard: Float64Array): number[] {
  const cells: number[] = []
  let lasts = 1
  for (let j = 0; j < hazard.length && lasts > OUTLASTED; j++) {
    cells.push(j)
    lasts *= 1 - hazard[j]!
  }
  return cells
}

/** What a step shrinks to before numbers stop telling shares of it apart. */
const VANISHED = 1e-300

const isSettled = (events: number, before: number) =>
  events <= before * (1 + SETTLED) + VANISHED && events >= before - SETTLED

/** How many events lie in each cell, those between two looks shared out by how likely each of their cells is. */
function expectedEvents(hazard: Float64Array, { exact, between }: EventCells): Float64Array {
  const chance = new Float64Array(hazard.length)
  const upTo = new Float64Array(hazard.length + 1)
  let lasts = 1
  hazard.forEach((each, j) => {
    chance[j] = lasts * each
    lasts *= 1 - each
    upTo[j + 1] = upTo[j]! + chance[j]!
  })
  const weight = new Float64Array(hazard.length + 1)
  const even = new Float64Array(hazard.length + 1)
  for (const { from, to } of between) {
    const all = upTo[to + 1]! - upTo[from]!
    // Where nothing lasts so far, every cell is as likely as the others; the event must not be lost.
    const [kind, share] = all > 0 ? [weight, 1 / all] : [even, 1 / (to + 1 - from)]
    kind[from]! += share
    kind[to + 1]! -= share
  }
  let [running, evenly] = [0, 0]
  return exact.map((known, j) => {
    running += weight[j]!
    evenly += even[j]!
    return known + chance[j]! * Math.max(running, 0) + Math.max(evenly, 0)
  })
}

/** Who has an event in a cell or later, or is followed beyond it, and was followed from before it. */
function numberAtRisk(events: Float64Array, { leavers, entrants }: EventCells): Float64Array {
  const atRisk = new Float64Array(events.length)
  let running = 0
  for (let j = events.length - 1; j >= 0; j--) {
    running += events[j]! + leavers[j]!
    atRisk[j] = running
    running -= entrants[j]!
  }
  return atRisk
}

/** Less than this of an event is none. */
const NOTHING = 1e-4

function stepsOf(
  hazard: Float64Array,
  events: Float64Array,
  atRisk: Float64Array,
  { ends }: EventCells,
): LastingStep[] {
  const steps: LastingStep[] = []
  let [lasts, spread] = [1, 0]
  for (const [j, each] of hazard.entries()) {
    if (lasts <= OUTLASTED) break
    lasts *= 1 - each
    if (each < 1) spread += each / (atRisk[j]! * (1 - each))
    if (events[j]! > NOTHING) steps.push({ age: ends[j]!, lasts, error: lasts * Math.sqrt(spread) })
  }
  return steps
}

/** The share that lasts beyond an age. */
export function lastingAt(steps: readonly LastingStep[], age: number): number {
  return steps.findLast((step) => step.age <= age)?.lasts ?? 1
}
