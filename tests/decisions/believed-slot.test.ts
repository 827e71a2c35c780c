/** What is believed slot by slot, whoever came by before: as if every part were followed by itself, from its beginning. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { BelievedSlot, type BySigns } from '@/lib/decisions/inner/believed-slot'
import { ageReplacement } from '@/lib/model/age-replacement'
import { lifeTables } from '@/lib/model/life-table'
import { advance, aliveAfter, applyTransition, makeTransition, normalise } from '@/lib/model/strands'
import { renewedLife } from '@/lib/scoring/life-start'
import { runs } from '../runs'

const LIFE = { shape: 3, scale: 150_000, pfMean: 9_000 }
const central = lifeTables([LIFE], [1])
const SUCCESS = 0.99
const COST = { planned: 300, unplanned: 1_800 }
const optimum = ageReplacement(LIFE, COST.planned, COST.unplanned)
if (!optimum.ok) throw new Error(optimum.reason)
const by: BySigns = {
  ground: {
    nodes: central,
    central,
    ...{ centralLife: LIFE, cost: COST, success: SUCCESS, interval: null },
    ...{ uses: [], slotDays: 14, shown: { developing: 0.25, sound: 0.02 } },
  },
  slot: 4_000,
  rate: optimum.gStar,
}

/** Whether the part is replaced in each slot, until it is; by what was seen in the slots before. */
function followed(seen: readonly boolean[]): boolean[] {
  const { ground, slot, rate } = by
  const { cost, shown } = ground
  const belief = renewedLife(central, SUCCESS)
  const transition = makeTransition(belief.node.length)
  const said: boolean[] = []
  for (const isSeen of seen) {
    advance(belief, slot, transition)
    const alive = aliveAfter(transition, belief.sound, belief.developing)
    said.push((1 - alive) * (cost.unplanned - cost.planned) > (rate * slot * (1 + alive)) / 2)
    if (said.at(-1)) break
    applyTransition(transition, belief.sound, belief.developing)
    const [going, good] = isSeen ? [shown.developing, shown.sound] : [1 - shown.developing, 1 - shown.sound]
    for (let i = 0; i < belief.sound.length; i++) {
      belief.developing[i] = belief.developing[i]! * going
      belief.sound[i] = belief.sound[i]! * good
    }
    normalise(belief.sound, belief.developing)
  }
  return said
}

function walked(from: BelievedSlot, seen: readonly boolean[]): boolean[] {
  const said: boolean[] = []
  let slot = from
  for (const isSeen of seen) {
    said.push(slot.isReplaced)
    if (said.at(-1)) break
    slot = slot.next(isSeen)
  }
  return said
}

/** Signs are rarely seen, so that ways go together for long before they part. */
const rarely = fc.integer({ min: 0, max: 29 }).map((n) => n === 0)
const ways = fc.array(fc.array(rarely, { minLength: 1, maxLength: 60 }), { minLength: 1, maxLength: 12 })

test('every way through the slots says what following the part by itself says', () => {
  const replaced = { yes: 0, no: 0 }
  fc.assert(
    fc.property(ways, (all) => {
      const begin = new BelievedSlot(renewedLife(central, SUCCESS), by)
      for (const seen of all) {
        const said = walked(begin, seen)
        expect(said).toEqual(followed(seen))
        replaced[said.at(-1) ? 'yes' : 'no']++
      }
    }),
    { numRuns: runs(100) },
  )
  expect(Math.min(replaced.yes, replaced.no)).toBeGreaterThan(10)
})
