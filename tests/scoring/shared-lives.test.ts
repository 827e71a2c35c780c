import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { normalise, selectStrands, sum } from '@/lib/model/strands'
import { ComponentBelief } from '@/lib/scoring/component-belief'
import { compileEngine } from '@/lib/scoring/engine-plan'
import { originalLife, partialLife } from '@/lib/scoring/life-start'
import { NodeLives } from '@/lib/scoring/node-lives'
import { statedParameters } from '@/lib/scoring/parameters'
import { exampleLibrary } from '../records/example-library'
import { runs } from '../runs'

const family = exampleLibrary().families[0]!
const plan = compileEngine(family, null, false)
const component = plan.components.find(({ weakPoint }) => weakPoint.positions > 1 && weakPoint.warning > 0)!
const { central, nodes } = statedParameters(family).of(component.weakPoint, null, null)
const beginning = { how: 'original', day: 0, clock: 0, revision: null } as const

/** Three positions that begin alike: sharing one life, or each with its own. */
function threePositions(shared: boolean): ComponentBelief[] {
  const one = new NodeLives(originalLife(nodes))
  return [0, 1, 2].map(() => {
    const belief = new ComponentBelief(component, 1)
    belief.begin(originalLife(central), shared ? one : new NodeLives(originalLife(nodes)), beginning)
    belief.settle()
    return belief
  })
}

const told = fc.constantFrom(1, 0.4, 0.9, 12)
const event = fc.oneof(
  fc.record({ steps: fc.tuple(...[0, 1, 2].map(() => fc.constantFrom(0, 1500, 9000))) }),
  fc.record({ step: fc.integer({ min: 1, max: 20_000 }) }),
  fc.record({ odds: fc.tuple(told, told, told) }),
  fc.record({ position: fc.nat(2), found: fc.constantFrom('sound' as const, 'developing' as const) }),
)

type Event = typeof event extends fc.Arbitrary<infer E> ? E : never

function tell(beliefs: ComponentBelief[], what: Event): void {
  if ('steps' in what) for (const [i, belief] of beliefs.entries()) belief.age(what.steps[i]!)
  else if ('step' in what) for (const belief of beliefs) belief.age(what.step)
  else if ('odds' in what) ComponentBelief.weigh(beliefs, Float64Array.from(what.odds))
  else beliefs[what.position]!.find(what.found)
}

/** Mass of each state by node: strands left out have none. */
function byNode(belief: ComponentBelief) {
  const { node, sound, developing } = belief.currentNodes()
  const masses = new Float64Array(2 * nodes.count)
  node.forEach((k, i) => {
    masses[2 * k] = sound[i]!
    masses[2 * k + 1] = developing[i]!
  })
  return masses
}

describe('Positions that share a life', () => {
  it('believe what they would believe with a life of their own, whatever they are told', () => {
    fc.assert(
      fc.property(fc.array(event, { maxLength: 25 }), (events) => {
        const [shared, apart] = [threePositions(true), threePositions(false)]
        for (const each of events) {
          tell(shared, each)
          tell(apart, each)
        }
        shared.forEach((belief, i) => {
          const expected = byNode(apart[i]!)
          byNode(belief).forEach((mass, k) => {
            expect(Math.abs(mass - expected[k]!)).toBeLessThan(1e-9)
          })
        })
      }),
      { numRuns: runs(60) },
    )
  })
})

describe('A partial repair', () => {
  it('gives every node its first weight, also one that was no longer followed', () => {
    const followed = selectStrands(originalLife(nodes), (i) => i % 3 !== 0)
    followed.age.fill(80_000)
    normalise(followed.sound, followed.developing)
    const life = partialLife(followed, 0.5, 0.98)
    const weight = new Float64Array(nodes.count)
    life.node.forEach((k, i) => {
      weight[k]! += life.sound[i]! + life.developing[i]!
    })
    expect(sum(weight)).toBeCloseTo(1, 12)
    weight.forEach((w, k) => {
      expect(w).toBeCloseTo(nodes.weight[k]!, 12)
    })
    for (const age of life.age) expect(age).toBeCloseTo(40_000, 6)
  })
})
