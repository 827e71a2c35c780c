/**
 * One life at every parameter node. The evidence since the nodes were last stepped and the sum of their masses are
 * kept as numbers and worked in with the next step. Positions of a weak point that began together share one life
 * for as long as they are told the same.
 */
import {
  advance,
  copyStrands,
  liveThrough,
  makeMasses,
  makeTransition,
  normalise,
  type Strands,
  selectStrands,
} from '@/lib/model/strands'

/** Strands of less mass are not followed on. */
const NO_MASS = 1e-6
/** Strands are left out together, when so few are worth keeping; so many steps lie between two looks at that. */
const PRUNE_BELOW = 0.85
const PRUNE_EVERY = 4

export class NodeLives {
  /** How many components have it. */
  sharers = 0
  /** What the odds of developing are still to be multiplied by. */
  private odds = 1
  /** What the masses sum to, before that. */
  private mass: number
  private transition
  private spare
  private steps = 0
  /** Whether nothing has happened since a learned life's nodes were given their first weights: asking changes no digit. */
  private isWeighed = false
  /** Whether the watch has begun: before it, what was survived must not weigh the nodes. */
  settled = false

  /** @param learned whether the nodes were learned from this life: what it survives does not weigh them again */
  constructor(
    private strands: Strands,
    private readonly learned = false,
  ) {
    const size = strands.node.length
    this.transition = makeTransition(size)
    this.spare = makeMasses(size)
    this.mass = 1
    normalise(strands.sound, strands.developing)
  }

  /** The same life for so many of those that share it, to go its own way. */
  split(sharers: number): NodeLives {
    this.sharers -= sharers
    const own = new NodeLives(copyStrands(this.current()), this.learned)
    own.sharers = sharers
    own.settled = this.settled
    own.steps = this.steps
    return own
  }

  /** The same life, digit for digit, to go its own way with as many that share it. */
  copy(): NodeLives {
    const own = new NodeLives(copyStrands(this.strands), this.learned)
    // What was made is normalised.
    own.strands.sound.set(this.strands.sound)
    own.strands.developing.set(this.strands.developing)
    own.mass = this.mass
    own.odds = this.odds
    own.steps = this.steps
    own.isWeighed = this.isWeighed
    own.settled = this.settled
    own.sharers = this.sharers
    return own
  }

  /** Time has passed: `step` in effective clock units. */
  age(step: number): void {
    if (!(step > 0)) return
    const { strands, transition, spare } = this
    advance(strands, step, transition)
    const alive = liveThrough(transition, strands, 1 / this.mass, this.odds, spare)
    // Where no part can have come this far, the age is right and the belief stays what it was.
    if (!(alive > 0)) return
    this.spare = { sound: strands.sound, developing: strands.developing }
    strands.sound = spare.sound
    strands.developing = spare.developing
    this.odds = 1
    this.mass = alive
    this.isWeighed = false
    if (this.settled && !this.learned && this.steps++ % PRUNE_EVERY === 0) this.prune()
  }

  /** Evidence of now: the odds of developing are multiplied by λ in every strand. */
  weigh(lambda: number): void {
    this.odds *= lambda
    this.isWeighed = false
  }

  /** The state was found: masses that `current` gave were changed from outside. */
  wasFound(): void {
    this.isWeighed = false
  }

  /** The strands as they are now; their masses sum to 1, a node's share being its weight. */
  current(): Strands {
    const { strands, odds } = this
    if (odds !== 1) for (let i = 0; i < strands.developing.length; i++) strands.developing[i]! *= odds
    if (this.learned && !this.isWeighed) giveFirstWeights(strands)
    else if (odds !== 1 || this.mass !== 1) normalise(strands.sound, strands.developing)
    this.odds = 1
    this.mass = 1
    this.isWeighed = this.learned
    return strands
  }

  /** Leaves out the strands that have no mass left, once they are many. */
  private prune(): void {
    const { strands } = this
    const least = NO_MASS * this.mass
    let kept = 0
    for (let i = 0; i < strands.node.length; i++)
      if (strands.sound[i]! + strands.developing[i]! > least) kept++
    if (kept > PRUNE_BELOW * strands.node.length) return
    this.strands = selectStrands(strands, (i) => strands.sound[i]! + strands.developing[i]! > least)
    this.transition = makeTransition(kept)
    this.spare = makeMasses(kept)
  }
}

/** Gives every node its first weight again: what was survived tells nothing of the parameters. */
export function giveFirstWeights({ tables, node, sound, developing }: Strands): void {
  const mass = new Float64Array(tables.count)
  for (let i = 0; i < node.length; i++) mass[node[i]!] = mass[node[i]!]! + sound[i]! + developing[i]!
  for (let i = 0; i < node.length; i++) {
    const k = node[i]!
    const factor = mass[k]! > 0 ? tables.weight[k]! / mass[k]! : 0
    sound[i] = sound[i]! * factor
    developing[i] = developing[i]! * factor
  }
  normalise(sound, developing)
}
