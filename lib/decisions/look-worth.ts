/**
 * What a look is worth: expected value of sample information (Raiffa & Schlaifer 1961).
 *
 * `EV = V₀ − Σ P(outcome)·V(outcome)`, where V sums min(0, K(slot) − C_p) over the components that the signs
 * bear on: act now, or leave it. Outcomes come from the hypotheses, exactly up to six signs, above that at most
 * two of them seen.
 */
import type { EnginePlan, PlacedSign } from '@/lib/scoring/engine-plan'
import type { FollowedVehicle } from '@/lib/scoring/follow-vehicle'

/** A component as far as looking goes: the loss of leaving it, by the factor on its odds of going. */
export interface Stake {
  component: number
  /** K(slot) − C_p at a factor on the odds; negative: leaving it is right. */
  loss(lambda: number): number
}

export interface LookWorth {
  /** Expected saving before the look's own cost. */
  worth: number
  /** Components that some outcome would move across "act now" and "leave it". */
  moved: Set<number>
}

const EXACT_SIGNS = 6
const MOST_SEEN = 2
/** An outcome rarer than this moves nothing. */
const RARE = 0.005

/** Worth of looking for some signs of one group at once. */
export function worthOfLooking(vehicle: FollowedVehicle, signs: number[], stakes: Stake[]): LookWorth {
  const { plan } = vehicle.belief
  const first = plan.signs[signs[0]!]?.causes[0]
  const moved = new Set<number>()
  if (!first || stakes.length === 0) return { worth: 0, moved }
  const { joint } = vehicle.belief.jointOf(first.component)
  const chances = outcomeChances(
    signs.map((s) => plan.signs[s]!),
    plan,
    joint.table(),
    stakes,
  )
  const now = stakes.map((stake) => stake.loss(1))
  const baseline = now.map((loss) => Math.min(0, loss))
  let worth = 0
  for (const { chance, going } of chances) {
    if (!(chance > 0)) continue
    stakes.forEach((stake, i) => {
      const loss = stake.loss(oddsFactor(going[i]! / chance, chances.prior[i]!))
      worth += chance * (baseline[i]! - Math.min(0, loss))
      if (chance > RARE && loss > 0 !== now[i]! > 0) moved.add(stake.component)
    })
  }
  return { worth: Math.max(worth, 0), moved }
}

/** Posterior odds over prior odds, kept finite. */
function oddsFactor(after: number, before: number): number {
  return odds(after) / odds(before)
}

function odds(p: number): number {
  const inside = Math.min(Math.max(p, 1e-9), 1 - 1e-9)
  return inside / (1 - inside)
}

interface Outcome {
  chance: number
  /** P(this outcome and the stake's component going). */
  going: Float64Array
}

/**
 * P(outcome) of every set of signs seen, by inclusion and exclusion over "all of these are silent", which is a
 * product in every hypothesis.
 */
function outcomeChances(
  signs: PlacedSign[],
  plan: EnginePlan,
  hypotheses: { weight: number; developing: Float64Array }[],
  stakes: Stake[],
): Outcome[] & { prior: Float64Array } {
  const group = plan.groups[plan.groupOf[stakes[0]!.component]!]!
  const places = stakes.map((stake) => group.indexOf(stake.component))
  const misses = signs.map((sign) => missesOf(sign, group))
  const subsets = seenSets(signs.length)
  const silent = new Map<number, Outcome>()
  const all = (1 << signs.length) - 1
  const silence = (set: number): Outcome => {
    const known = silent.get(set) ?? silenceOf(set, signs, misses, hypotheses, places)
    silent.set(set, known)
    return known
  }
  const outcomes = subsets.map((seen) => {
    const outcome: Outcome = { chance: 0, going: new Float64Array(stakes.length) }
    for (let part = seen; ; part = (part - 1) & seen) {
      const term = silence(all ^ seen ^ part)
      const sign = bits(part) % 2 === 0 ? 1 : -1
      // Subsets of the seen signs join the silent ones with alternating sign.
      outcome.chance += sign * term.chance
      term.going.forEach((g, i) => {
        outcome.going[i] = outcome.going[i]! + sign * g
      })
      if (part === 0) break
    }
    return outcome
  })
  return Object.assign(outcomes, { prior: silence(0).going })
}

function silenceOf(
  set: number,
  signs: PlacedSign[],
  misses: Float64Array[],
  hypotheses: { weight: number; developing: Float64Array }[],
  places: number[],
): Outcome {
  const size = misses[0]!.length
  const miss = new Float64Array(size).fill(1)
  let quiet = 1
  signs.forEach((sign, s) => {
    if ((set & (1 << s)) === 0) return
    quiet *= 1 - sign.leak
    for (let c = 0; c < size; c++) miss[c] = miss[c]! * misses[s]![c]!
  })
  const outcome: Outcome = { chance: 0, going: new Float64Array(places.length) }
  for (const h of hypotheses) {
    let product = h.weight * quiet
    for (let c = 0; c < size; c++) product *= 1 - h.developing[c]! * (1 - miss[c]!)
    outcome.chance += product
    places.forEach((c, i) => {
      const p = h.developing[c]!
      const share = 1 - p * (1 - miss[c]!)
      if (share > 0) outcome.going[i] = outcome.going[i]! + (product * p * miss[c]!) / share
    })
  }
  return outcome
}

function missesOf(sign: PlacedSign, group: number[]): Float64Array {
  const miss = new Float64Array(group.length).fill(1)
  for (const cause of sign.causes) {
    const c = group.indexOf(cause.component)
    miss[c] = miss[c]! * (1 - cause.detect)
  }
  return miss
}

/** Sets of signs seen: all of them up to six signs, above that those of at most two. */
function seenSets(count: number): number[] {
  if (count <= EXACT_SIGNS) return Array.from({ length: 1 << count }, (_, set) => set)
  const sets = [0]
  for (let a = 0; a < count; a++) {
    sets.push(1 << a)
    for (let b = a + 1; b < count && MOST_SEEN >= 2; b++) sets.push((1 << a) | (1 << b))
  }
  return sets
}

function bits(set: number): number {
  let count = 0
  for (let rest = set; rest; rest &= rest - 1) count++
  return count
}
