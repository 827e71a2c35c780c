import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ageAtoms, originalAt, renewalGrid, renewedAges } from '@/lib/model/renewal'
import { propagate, type TwoStage } from '@/lib/model/two-stage'
import { runs } from '../runs'

const lives = fc.record({
  shape: fc.double({ min: 0.7, max: 6, noNaN: true }),
  scale: fc.constant(100_000),
  pfMean: fc.oneof(fc.constant(0), fc.double({ min: 300, max: 200_000, noNaN: true })),
})
const situations = fc.record({
  life: lives,
  x0: fc.double({ min: 1_000, max: 500_000, noNaN: true }),
  startsDeveloping: fc.constantFrom(0, 0.02, 0.2),
  renewEvery: fc.oneof(fc.constant(null), fc.double({ min: 20_000, max: 300_000, noNaN: true })),
})

describe('the ages of a part of unknown history', () => {
  it('lose no part: original and renewed sum to 1', () => {
    fc.assert(
      fc.property(situations, ({ life, x0, ...rest }) => {
        const grid = renewalGrid(life, { ...rest, upTo: x0 * 1.2 })
        const original = originalAt(grid, x0)
        const renewed = renewedAges(grid, x0)
        const total = [...renewed.sound, ...renewed.developing].reduce((a, b) => a + b, 0)
        // The grid's own error, which atoms spread over the renewed parts: largest where the P–F interval is far
        // shorter than a cell.
        const most = life.pfMean > 0 && life.pfMean < 0.01 * life.scale ? 5e-2 : 1e-2
        expect(Math.abs(total + original.sound + original.developing - 1)).toBeLessThan(most)
      }),
      { numRuns: runs(150), seed: 1 },
    )
  })

  it('are at most 8 atoms, in the domain, whose weights and states sum to 1', () => {
    fc.assert(
      fc.property(situations, ({ life, x0, ...rest }) => {
        const atoms = ageAtoms(renewalGrid(life, { ...rest, upTo: x0 }), x0)
        expect(atoms.length).toBeLessThanOrEqual(8)
        expect(atoms.reduce((sum, atom) => sum + atom.weight, 0)).toBeCloseTo(1, 12)
        for (const { age, weight, sound, developing, original } of atoms) {
          expect(weight).toBeGreaterThan(0)
          expect(Math.min(sound, developing)).toBeGreaterThanOrEqual(0)
          expect(sound + developing).toBeCloseTo(1, 12)
          expect(age).toBeLessThanOrEqual(Math.min(x0, rest.renewEvery ?? x0))
          if (original) expect(age).toBe(x0)
        }
      }),
      { numRuns: runs(150), seed: 2 },
    )
  })
})

it('holds only the original where no other can have come yet', () => {
  const grid = renewalGrid(
    { shape: 10, scale: 1e5, pfMean: 0 },
    { startsDeveloping: 0, renewEvery: null, upTo: 500 },
  )
  expect(ageAtoms(grid, 500)).toEqual([{ age: 500, weight: 1, sound: 1, developing: 0, original: true }])
})

it('holds only the original, sound, at x₀ = 0', () => {
  const grid = renewalGrid(
    { shape: 2, scale: 1e5, pfMean: 5e3 },
    { startsDeveloping: 0.02, renewEvery: null, upTo: 0 },
  )
  expect(ageAtoms(grid, 0)).toEqual([{ age: 0, weight: 1, sound: 1, developing: 0, original: true }])
})

it('knows a part that was due at x₀ as just renewed', () => {
  const grid = renewalGrid(
    { shape: 8, scale: 300_000, pfMean: 2_000 },
    { startsDeveloping: 0, renewEvery: 60_000, upTo: 250_000 },
  )
  for (const x0 of [60_000, 120_000, 180_000, 240_000]) {
    const youngest = ageAtoms(grid, x0).reduce((a, b) => (b.weight > a.weight ? b : a))
    expect(youngest.original).toBe(false)
    expect(youngest.age).toBeLessThan(1)
    expect(ageAtoms(grid, x0 - 1_000).at(-1)?.original).toBe(x0 === 60_000)
  }
})

describe.each([
  ['wear-out', { shape: 3.2, scale: 100_000, pfMean: 8_000 }, 230_000, 0.7],
  ['long warning', { shape: 2, scale: 60_000, pfMean: 60_000 }, 200_000, 0.7],
  ['no warning', { shape: 4, scale: 90_000, pfMean: 0 }, 150_000, 1.5],
  ['early failures', { shape: 0.8, scale: 100_000, pfMean: 4_000 }, 300_000, 2.5],
] as const)('the atoms of a part with %s', (_, life, x0, percent) => {
  const grid = renewalGrid(life, { startsDeveloping: 0.02, renewEvery: null, upTo: x0 })

  it(`give the chance of failing soon to ${percent} % of that of all ages`, () => {
    for (const distance of [1_000, 5_000, 20_000]) {
      const exact = failsOfAllAges(life, x0, distance)
      const rough = ageAtoms(grid, x0).reduce(
        (sum, a) => sum + a.weight * propagate(a.developing, a.age, a.age + distance, life).fails,
        0,
      )
      expect(Math.abs(rough / exact - 1)).toBeLessThan(percent / 100)
    }
  })

  function failsOfAllAges(part: TwoStage, odometer: number, distance: number): number {
    const all = renewedAges(grid, odometer)
    const original = originalAt(grid, odometer)
    const age = [...all.age, odometer]
    const sound = [...all.sound, original.sound]
    const developing = [...all.developing, original.developing]
    return age.reduce((sum, a, i) => {
      const mass = sound[i]! + developing[i]!
      return sum + mass * propagate(developing[i]! / mass, a, a + distance, part).fails
    }, 0)
  }
})

describe('simulated owners, who renew at a failure or when due', () => {
  const life = { shape: 2.5, scale: 100_000, pfMean: 12_000 }
  const [x0, renewEvery, startsDeveloping, vehicles] = [210_000, 90_000, 0.1, 200_000]
  const random = generator(20)

  const edges = [0, 15_000, 30_000, 45_000, 60_000, 75_000, renewEvery]
  const counts = new Array<number>(edges.length - 1).fill(0)
  for (let v = 0; v < vehicles; v++) {
    const age = ageAt(x0)
    counts[edges.findIndex((edge) => age < edge) - 1]! += 1
  }

  it('have parts of the ages that the grid gives, within 4 standard errors', () => {
    const grid = renewalGrid(life, { startsDeveloping, renewEvery, upTo: x0, resolution: 80 })
    const { age, sound, developing } = renewedAges(grid, x0)
    for (const [bin, count] of counts.entries()) {
      const inBin = (a: number) => a >= edges[bin]! && a < edges[bin + 1]!
      const chance = age.reduce((sum, a, i) => sum + (inBin(a) ? sound[i]! + developing[i]! : 0), 0)
      const error = Math.sqrt((chance * (1 - chance)) / vehicles)
      expect(Math.abs(count / vehicles - chance)).toBeLessThan(4 * error + 1e-3)
    }
  })

  function ageAt(odometer: number): number {
    let renewedAt = 0
    for (let first = true; ; first = false) {
      const relapse = !first && random() < startsDeveloping
      const onset = relapse ? 0 : life.scale * (-Math.log(random())) ** (1 / life.shape)
      const end = renewedAt + Math.min(renewEvery, onset - life.pfMean * Math.log(random()))
      if (end > odometer) return odometer - renewedAt
      renewedAt = end
    }
  }
})

/** Uniform numbers in (0, 1) from a seed (mulberry32). */
function generator(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return (((t ^ (t >>> 14)) >>> 0) + 0.5) / 4294967296
  }
}
