/** A life lived on through a few moments, read off between them: against every step taken by itself. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { LifeCourse } from '@/lib/model/life-course'
import { lifeTables } from '@/lib/model/life-table'
import { failChance, failChanceByNode } from '@/lib/model/outlook'
import { statedNodes } from '@/lib/model/parameter-nodes'
import { makeStrands, type Strands } from '@/lib/model/strands'
import { runs } from '../runs'

const between = (low: number, high: number) =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp)
const share = fc.double({ min: 0, max: 1, noNaN: true })

/** A life at all nodes of a statement, at one age. */
function someLife(said: {
  shape: number
  pfMean: number
  spread: number
  age: number
  going: number
}): Strands {
  const central = { shape: said.shape, scale: 100_000, pfMean: said.pfMean }
  const spread = { logScale: 2 * said.spread, logShape: said.spread, logPfMean: 1.5 * said.spread }
  const { shape, scale, pfMean, weight } = statedNodes(central, spread)
  const nodes = Array.from(shape, (each, k) => ({ shape: each, scale: scale[k]!, pfMean: pfMean[k]! }))
  const starts = Array.from(weight, (mass, node) => {
    const developing = said.pfMean > 0 ? mass * said.going : 0
    return { node, age: said.age, sound: mass - developing, developing }
  })
  return makeStrands(lifeTables(nodes, weight), starts)
}

const lives = fc.record({
  shape: between(1.2, 5),
  pfMean: fc.oneof(fc.constant(0), between(500, 1e5)),
  spread: fc.constantFrom(0.06, 0.15, 0.3),
  age: fc.oneof(fc.constant(0), between(1, 3e5)),
  going: fc.oneof(fc.constant(0), share),
})

/** ∫ P(not failed) over a step, by Simpson's rule on many panels. */
function unitsExactly(strands: Strands, step: number): number {
  const panels = 100
  let sum = 0
  for (let i = 0; i <= 2 * panels; i++) {
    const weight = i === 0 || i === 2 * panels ? 1 : i % 2 === 1 ? 4 : 2
    sum += weight * (1 - failChance(strands, (step * i) / (2 * panels)))
  }
  return (sum * step) / (6 * panels)
}

describe('a course', () => {
  it('fails as every step by itself does, at each node and over all', () => {
    let [worst, worstNode] = [0, 0]
    fc.assert(
      fc.property(lives, between(10, 4e5), (said, step) => {
        const strands = someLife(said)
        const course = new LifeCourse(strands)
        const { count } = strands.tables
        const [mass, fails] = [new Float64Array(count), new Float64Array(count)]
        failChanceByNode(strands, step, mass, fails)
        const off = course
          .aliveByNode(step)
          .reduce((sum, alive, k) => sum + mass[k]! * Math.abs(alive - (1 - fails[k]! / mass[k]!)), 0)
        worstNode = Math.max(worstNode, off)
        worst = Math.max(worst, Math.abs(course.within(step).fails - failChance(strands, step)))
      }),
      { numRuns: runs(150), seed: 4 },
    )
    expect(worst).toBeLessThan(5e-3)
    expect(worstNode).toBeLessThan(5e-3)
  })

  it('lasts, until then or failure, as long as the integral says', () => {
    let worst = 0
    fc.assert(
      fc.property(lives, between(10, 4e5), (said, step) => {
        const strands = someLife(said)
        const units = unitsExactly(strands, step)
        worst = Math.max(worst, Math.abs(new LifeCourse(strands).within(step).units - units) / step)
      }),
      { numRuns: runs(30), seed: 5 },
    )
    expect(worst).toBeLessThan(5e-3)
  })

  it('answers alike in whatever order it is asked', () => {
    const strands = someLife({ shape: 3, pfMean: 8_000, spread: 0.3, age: 90_000, going: 0.1 })
    const steps = [40_000, 10, 250_000, 3_000, 90_000, 0]
    const ask = (course: LifeCourse) => (step: number) => [course.within(step), course.aliveByNode(step)]
    const one = ask(new LifeCourse(strands))
    for (const step of steps) expect(one(step)).toEqual(ask(new LifeCourse(strands))(step))
    expect(one(0)[0]).toEqual({ fails: 0, units: 0 })
  })
})
