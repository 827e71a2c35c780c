import { describe, expect, it } from 'vitest'
import { originalAt, renewalFunction, renewalGrid, renewedAges } from '@/lib/model/renewal'
import { outsideCheck } from './outside-checks'
import reference from './renewal.json'

const FINE = 80
const options = { startsDeveloping: 0, renewEvery: null, resolution: FINE }

const counts = outsideCheck({
  what: 'renewal function M(t)',
  formula: 'M(t) = F(t) + ∫ F(t − s) dM(s), Weibull and two-stage lives',
  source: 'renewal.json: power series, 160 to 1400 digits; closed forms; extrapolated grids',
  tolerance: { absolute: 1e-4 },
})
const densities = outsideCheck({
  what: 'renewal density m(t)',
  formula: 'dM/dt, from two points of the grid',
  source: 'renewal.json: power series, closed forms',
  tolerance: { absolute: 1e-3 },
})
const originals = outsideCheck({
  what: 'renewal: P(original part at x₀)',
  formula: 'S_F(x₀)',
  source: 'renewal.json: exact',
  tolerance: { relative: 1e-9 },
})
const ages = outsideCheck({
  what: 'renewal: ages of renewed parts at x₀, by bins',
  formula: '∫ m(x₀ − a)·S(a) da over each bin, on the grid',
  source: 'renewal.json: Gauss–Legendre on the series',
  tolerance: { absolute: 1e-5 },
})

type Case = (typeof reference.cases)[number]
type Point = { t: number; M: number; m?: number }

const lifeOf = ({ shape, scale, delta }: Case) => ({
  shape: shape ?? Number.NaN,
  scale: scale ?? Number.NaN,
  pfMean: delta ?? Number.NaN,
})

describe.each(reference.cases.filter((c) => c.points?.length))('$id', (c) => {
  it.each<Point>(c.points ?? [])('renewals by $t', ({ t, M, m }) => {
    const grid = renewalGrid(lifeOf(c), { ...options, upTo: 1.01 * t })
    counts.close(renewalFunction(grid, t), M, c.id)
    if (m === undefined) return
    const half = grid.step / 2
    const slope = (renewalFunction(grid, t + half) - renewalFunction(grid, t - half)) / grid.step
    densities.close(slope, m, c.id)
  })
})

it.each(reference.cases.filter((c) => c.kind === 'atoms'))('$id', (c) => {
  const x0 = c.x0 ?? Number.NaN
  const edges = c.ageBinEdges ?? []
  const grid = renewalGrid(lifeOf(c), { ...options, upTo: x0 })
  const original = originalAt(grid, x0)
  originals.close(original.sound + original.developing, c.pOriginal ?? Number.NaN, c.id)

  const parts = renewedAges(grid, x0)
  for (const [bin, mass] of (c.ageBinMass ?? []).entries()) {
    let found = 0
    for (const [i, age] of parts.age.entries()) {
      const young = Math.max(age - grid.step / 2, edges[bin]!)
      const old = Math.min(age + grid.step / 2, edges[bin + 1]!)
      found += ((parts.sound[i]! + parts.developing[i]!) * Math.max(0, old - young)) / grid.step
    }
    ages.close(found, mass, c.id)
  }
})

it('approaches the straight line t/μ + (σ² − μ²)/(2μ²)', () => {
  const [eta, delta] = [1, 0.5]
  const grid = renewalGrid({ shape: 1, scale: eta, pfMean: delta }, { ...options, upTo: 30 })
  const mean = eta + delta
  const line = 30 / mean + (eta ** 2 + delta ** 2 - mean ** 2) / (2 * mean ** 2)
  expect(Math.abs(renewalFunction(grid, 30) - line)).toBeLessThan(1e-3)
})

counts.done()
densities.done()
originals.done()
ages.done()
