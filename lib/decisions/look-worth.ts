/**
 * What a look is worth: expected value of sample information (Raiffa & Schlaifer 1961).
 *
 * `EV = V₀ − Σ P(outcome)·V(outcome)`, where V sums min(0, K(slot) − C_p) over the components that the signs
 * bear on: act now, or leave it. Outcomes come from the hypotheses, exactly up to seven signs. Of more, those that
 * tell most are told apart, and the others in pairs, of which only "one of them was seen" is known: that is knowing
 * less, so that the worth is then too low by a little, and never too high.
 */
import type { EnginePlan } from '@/lib/scoring/engine-plan'
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

const TOLD_APART = 7
/** An outcome rarer than this moves nothing. */
const RARE = 0.005

/** Worth of looking for some signs of one group at once. */
export function worthOfLooking(vehicle: FollowedVehicle, signs: number[], stakes: Stake[]): LookWorth {
  const { plan } = vehicle.belief
  const first = plan.signs[signs[0]!]?.causes[0]
  const moved = new Set<number>()
  if (!first || stakes.length === 0) return { worth: 0, moved }
  const { joint } = vehicle.belief.jointOf(first.component)
  const group = plan.groups[plan.groupOf[stakes[0]!.component]!]!
  const told = toldApart(vehicle, signs).map((together) => silenceIn(together, plan, group))
  const places = stakes.map((stake) => group.indexOf(stake.component))
  const { chances, going, prior } = outcomesOf(told, joint.table(), places)
  const now = stakes.map((stake) => stake.loss(1))
  let worth = 0
  for (let outcome = 0; outcome < chances.length; outcome++) {
    const chance = chances[outcome]!
    if (!(chance > 0)) continue
    for (let i = 0; i < stakes.length; i++) {
      const stake = stakes[i]!
      const loss = stake.loss(oddsFactor(going[outcome * stakes.length + i]! / chance, prior[i]!))
      worth += chance * (Math.min(0, now[i]!) - Math.min(0, loss))
      if (chance > RARE && loss > 0 !== now[i]! > 0) moved.add(stake.component)
    }
  }
  return { worth: Math.max(worth, 0), moved }
}

/** What a look for some signs may show, and what is then believed. */
export interface LookOutcome {
  /** What was seen; of signs that are not told apart, one of them. */
  seen: number[][]
  chance: number
  /** P(going) of each component that was asked for, and the factor on its odds. */
  going: number[]
  odds: number[]
}

/**
 * Every outcome of looking for some signs of one group; the chances sum to 1, and the mean of `going` is what is
 * believed now.
 *
 * @param components of the same group
 */
export function lookOutcomes(
  vehicle: FollowedVehicle,
  signs: number[],
  components: readonly number[],
): LookOutcome[] {
  const { plan } = vehicle.belief
  const first = plan.signs[signs[0]!]?.causes[0]
  if (!first) return []
  const group = plan.groups[plan.groupOf[first.component]!]!
  const told = toldApart(vehicle, signs)
  const { chances, going, prior } = outcomesOf(
    told.map((together) => silenceIn(together, plan, group)),
    vehicle.belief.jointOf(first.component).joint.table(),
    components.map((component) => group.indexOf(component)),
  )
  return Array.from(chances).flatMap((chance, silent) => {
    if (!(chance > 0)) return []
    const after = components.map((_, i) =>
      Math.min(Math.max(going[silent * components.length + i]! / chance, 0), 1),
    )
    return {
      seen: told.filter((_, s) => (silent & (1 << s)) === 0),
      ...{ chance, going: after },
      odds: after.map((p, i) => oddsFactor(p, prior[i]!)),
    }
  })
}

/** Posterior odds over prior odds, kept finite. */
function oddsFactor(after: number, before: number): number {
  return odds(after) / odds(before)
}

function odds(p: number): number {
  const inside = Math.min(Math.max(p, 1e-9), 1 - 1e-9)
  return inside / (1 - inside)
}

/** By set of signs that are silent while all others are seen. */
interface Outcomes {
  chances: Float64Array
  /** P(this outcome and a component going): a row of the components that were asked for by outcome. */
  going: Float64Array
  /** P(going) of each of them now. */
  prior: Float64Array
}

/** The signs, each by itself; of more than can be told apart those that tell least share their places. */
function toldApart({ belief }: FollowedVehicle, signs: number[]): number[][] {
  if (signs.length <= TOLD_APART) return signs.map((sign) => [sign])
  const telling = (sign: number) =>
    belief.plan.signs[sign]!.causes.reduce((a, c) => a + c.detect * belief.developing(c.component), 0)
  const sorted = [...signs].sort((a, b) => telling(b) - telling(a))
  const alone = Math.max(2 * TOLD_APART - signs.length, 0)
  const places = sorted.slice(0, TOLD_APART).map((sign) => [sign])
  sorted.slice(TOLD_APART).forEach((sign, i) => {
    places[alone + (i % (TOLD_APART - alone))]!.push(sign)
  })
  return places
}

/** What is told of some signs at once: with which chance all of them are silent. */
interface Silence {
  /** Without any cause. */
  quiet: number
  /** By component of the group: a factor where it is developing. */
  miss: Float64Array
}

function silenceIn(signs: number[], plan: EnginePlan, group: number[]): Silence {
  const miss = new Float64Array(group.length).fill(1)
  let quiet = 1
  for (const sign of signs) {
    const { leak, causes } = plan.signs[sign]!
    quiet *= 1 - leak
    for (const cause of causes) {
      const c = group.indexOf(cause.component)
      miss[c] = miss[c]! * (1 - cause.detect)
    }
  }
  return { quiet, miss }
}

type Hypotheses = { weight: number; developing: Float64Array }[]

/**
 * P(outcome) of every set of signs that is silent while all others are seen: from "all of these are silent, whatever the
 * others are", a product in every hypothesis, by inclusion and exclusion, one sign after the other.
 *
 * @param places in their group, of the components that are asked for
 */
function outcomesOf(told: Silence[], hypotheses: Hypotheses, places: number[]): Outcomes {
  const [sets, row] = [1 << told.length, places.length]
  const { chances, going } = silences(told, hypotheses, places)
  const prior = going.slice(0, row)
  for (let sign = 1; sign < sets; sign <<= 1) {
    for (let set = 0; set < sets; set++) {
      if (set & sign) continue
      const [here, silent] = [set, set | sign]
      chances[here] = chances[here]! - chances[silent]!
      for (let i = 0; i < row; i++) going[here * row + i] = going[here * row + i]! - going[silent * row + i]!
    }
  }
  return { chances, going, prior }
}

/** By set of signs: P(all of them silent), and that with a component going. */
function silences(told: Silence[], hypotheses: Hypotheses, places: number[]): Omit<Outcomes, 'prior'> {
  const [sets, size, row] = [1 << told.length, told[0]!.miss.length, places.length]
  const [chances, going] = [new Float64Array(sets), new Float64Array(sets * row)]
  const { quiet, miss } = silenceOfSets(told)
  const share = new Float64Array(size)
  for (let set = 0; set < sets; set++) {
    for (const { weight, developing } of hypotheses) {
      let product = weight * quiet[set]!
      for (let c = 0; c < size; c++) {
        share[c] = 1 - developing[c]! * (1 - miss[set * size + c]!)
        product *= share[c]!
      }
      chances[set] = chances[set]! + product
      for (let i = 0; i < row; i++) {
        const c = places[i]!
        const at = set * row + i
        if (share[c]! > 0)
          going[at] = going[at]! + (product * developing[c]! * miss[set * size + c]!) / share[c]!
      }
    }
  }
  return { chances, going }
}

/** The same of several signs at once, by set of them: each set is another with one sign more. */
function silenceOfSets(told: Silence[]): { quiet: Float64Array; miss: Float64Array } {
  const [sets, size] = [1 << told.length, told[0]!.miss.length]
  const [quiet, miss] = [new Float64Array(sets).fill(1), new Float64Array(sets * size).fill(1)]
  told.forEach((silence, s) => {
    const first = 1 << s
    for (let set = first; set < 2 * first; set++) {
      const fewer = set - first
      quiet[set] = quiet[fewer]! * silence.quiet
      for (let c = 0; c < size; c++) miss[set * size + c] = miss[fewer * size + c]! * silence.miss[c]!
    }
  })
  return { quiet, miss }
}
