import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { lifeTables } from '@/lib/model/life-table'
import {
  advance,
  aliveAfter,
  applyTransition,
  copyStrands,
  makeStrands,
  makeTransition,
  normalise,
  OLD_RATIO,
  type Strands,
  selectStrands,
  shiftAges,
  sum,
} from '@/lib/model/strands'
import { propagate } from '@/lib/model/two-stage'
import { runs } from '../runs'

const between = (low: number, high: number) =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp)
const share = fc.double({ min: 0, max: 1, noNaN: true })
const lives = fc.record({
  shape: between(0.5, 10),
  scale: fc.constant(100_000),
  pfMean: fc.oneof(fc.constant(0), between(500, 1e6)),
})
const life = (l: { shape: number; scale: number; pfMean: number }, age: number, p: number) =>
  makeStrands(lifeTables([l], [1]), [{ node: 0, age, sound: 1 - p, developing: p }])

function move(strands: Strands, step: number): number {
  const transition = makeTransition(strands.node.length)
  advance(strands, step, transition)
  return applyTransition(transition, strands.sound, strands.developing)
}

describe('a step of ageing', () => {
  it('leaves the masses that the integrals leave', () => {
    fc.assert(
      fc.property(lives, between(1, 3e5), between(1, 1e5), share, (l, age, step, p) => {
        fc.pre(l.pfMean > 0 || p === 0)
        const strands = life(l, age, p)
        move(strands, step)
        const exact = propagate(p, age, age + step, l)
        const digits = l.shape < 5 ? 4 : 3
        expect(strands.sound[0]!).toBeCloseTo(exact.sound, digits)
        expect(strands.developing[0]!).toBeCloseTo(exact.developing, digits)
      }),
      { numRuns: runs(300), seed: 3 },
    )
  })

  it('lets as many fail as the integrals do where hardly one is sound any more and the step is short', () => {
    const wornOut = fc.record({
      shape: between(0.6, 8),
      scale: fc.constant(100_000),
      pfMean: between(5e3, 1e5),
    })
    fc.assert(
      fc.property(wornOut, between(1, 3), between(0.01, 0.09), (l, far, turn) => {
        const age = far * l.scale
        const step = (turn * age) / l.shape
        const strands = life(l, age, 0)
        fc.pre(strands.ratio[0]! > OLD_RATIO)
        const failed = 1 - move(strands, step)
        const exact = propagate(0, age, age + step, l)
        expect(Math.abs(failed / (1 - exact.sound - exact.developing) - 1)).toBeLessThan(1e-3)
      }),
      { numRuns: runs(300) },
    )
  })

  it('in two parts is the same as in one', () => {
    fc.assert(
      fc.property(lives, between(100, 2e5), between(100, 5e4), share, share, (l, age, step, p, part) => {
        const [once, twice] = [life(l, age, p), life(l, age, p)]
        move(once, step)
        move(twice, step * part)
        move(twice, step * (1 - part))
        expect(twice.sound[0]!).toBeCloseTo(once.sound[0]!, 5)
        expect(twice.developing[0]!).toBeCloseTo(once.developing[0]!, 5)
      }),
      { numRuns: runs(200), seed: 4 },
    )
  })

  it('never makes mass, and takes none where nothing passes', () => {
    fc.assert(
      fc.property(lives, between(1, 1.9e6), between(0.01, 2e6), share, (l, age, step, p) => {
        const strands = life(l, age, p)
        expect(move(strands, 0)).toBeCloseTo(1, 12)
        const alive = move(strands, step)
        expect(alive).toBeGreaterThanOrEqual(0)
        expect(alive).toBeLessThanOrEqual(1 + 1e-12)
      }),
      { numRuns: runs(300), seed: 5 },
    )
  })

  it('of nothing leaves the age, of something adds it', () => {
    const strands = life({ shape: 3, scale: 1_000, pfMean: 50 }, 400, 0.1)
    move(strands, 0)
    expect(strands.age[0]).toBe(400)
    move(strands, 25)
    expect(strands.age[0]).toBe(425)
  })

  it('tells beforehand what will be alive', () => {
    const strands = life({ shape: 3, scale: 1_000, pfMean: 50 }, 400, 0.1)
    const transition = makeTransition(1)
    advance(strands, 100, transition)
    const expected = aliveAfter(transition, strands.sound, strands.developing)
    expect(applyTransition(transition, strands.sound, strands.developing)).toBeCloseTo(expected, 15)
  })
})

describe('ages put where they turn out to be', () => {
  it('leave the masses, never fall below 0, and step on as if they had always been so', () => {
    const l = { shape: 3, scale: 1_000, pfMean: 50 }
    const [shifted, old] = [life(l, 400, 0.1), life(l, 700, 0.1)]
    shiftAges(shifted, 300)
    expect([shifted.sound[0], shifted.developing[0]]).toEqual([0.9, 0.1])
    expect(move(shifted, 100)).toBeCloseTo(move(old, 100), 12)
    shiftAges(shifted, -5_000)
    expect(shifted.age[0]).toBe(0)
    expect(move(shifted, 100)).not.toBeNaN()
  })
})

describe('copies and selections', () => {
  const tables = lifeTables(
    [
      { shape: 3, scale: 1_000, pfMean: 50 },
      { shape: 2, scale: 2_000, pfMean: 80 },
    ],
    [0.5, 0.5],
  )
  const make = () =>
    makeStrands(tables, [
      { node: 0, age: 100, sound: 0.5, developing: 0.1 },
      { node: 1, age: 300, sound: 0.3, developing: 0.1 },
    ])

  it('go their own way', () => {
    const [original, copy] = [make(), copyStrands(make())]
    move(copy, 200)
    expect(original).toEqual(make())
    expect(Array.from(copy.age)).toEqual([300, 500])
  })

  it('hold the strands that are worth following', () => {
    const second = selectStrands(make(), (i) => i === 1)
    expect(Array.from(second.node)).toEqual([1])
    const [alone, together] = [move(second, 50), make()]
    move(together, 50)
    expect(alone).toBeCloseTo(together.sound[1]! + together.developing[1]!, 15)
  })

  it('are normalised to 1 in all, unless nothing is left', () => {
    const strands = make()
    move(strands, 500)
    expect(normalise(strands.sound, strands.developing)).toBe(true)
    expect(sum(strands.sound) + sum(strands.developing)).toBeCloseTo(1, 12)
    expect(normalise(new Float64Array(2), new Float64Array(2))).toBe(false)
  })
})
