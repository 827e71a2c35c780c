import {
  advance,
  aliveAfter,
  applyTransition,
  copyStrands,
  makeTransition,
  normalise,
  type Strands,
} from '@/lib/model/strands'
import type { PolicyGround } from '../policy-ground'

/** How somebody who goes by signs and score deals with a part. */
export interface BySigns {
  ground: PolicyGround
  /** Effective units in a slot. */
  slot: number
  /** g*, money an effective unit. */
  rate: number
}

/**
 * A slot in what is believed of a part: slots follow each other as a tree of what is seen and not seen at the end of
 * each. Whoever lives through what somebody else has lived through finds it worked out.
 */
export class BelievedSlot {
  private replaced: boolean | null = null
  private readonly after: [BelievedSlot | null, BelievedSlot | null] = [null, null]

  /** @param belief at the beginning of the slot; it is moved on */
  constructor(
    private readonly belief: Strands,
    private readonly by: BySigns,
  ) {}

  /** Whether leaving the part for this slot would cost more than it saves. */
  get isReplaced(): boolean {
    this.replaced ??= this.liveThrough()
    return this.replaced
  }

  /** The slot that follows where the part is left in. */
  next(isSeen: boolean): BelievedSlot {
    const at = isSeen ? 1 : 0
    this.after[at] ??= new BelievedSlot(this.told(isSeen), this.by)
    return this.after[at]
  }

  private liveThrough(): boolean {
    const { belief } = this
    const { ground, slot, rate } = this.by
    const { planned, unplanned } = ground.cost
    const transition = makeTransition(belief.node.length)
    advance(belief, slot, transition)
    const alive = aliveAfter(transition, belief.sound, belief.developing)
    const loss = (1 - alive) * (unplanned - planned) - (rate * slot * (1 + alive)) / 2
    if (!(loss > 0) && alive > 0) applyTransition(transition, belief.sound, belief.developing)
    return loss > 0
  }

  private told(isSeen: boolean): Strands {
    const { developing, sound } = this.by.ground.shown
    const [ofGoing, ofSound] = isSeen ? [developing, sound] : [1 - developing, 1 - sound]
    const belief = copyStrands(this.belief)
    for (let i = 0; i < belief.sound.length; i++) {
      belief.developing[i] = belief.developing[i]! * ofGoing
      belief.sound[i] = belief.sound[i]! * ofSound
    }
    normalise(belief.sound, belief.developing)
    return belief
  }
}
