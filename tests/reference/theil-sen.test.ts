import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { theilSen } from '@/lib/model/theil-sen'
import { longestTrustedChain } from '@/lib/model/trusted-chain'
import { outsideCheck } from './outside-checks'

type SlopeCase = {
  id: string
  kind: 'theil-sen'
  x: number[]
  y: number[]
  slope: number
  intercept: number
  pairs: number
  intervals: { level: 0.8 | 0.95; low: number; high: number }[]
}
type ChainCase = {
  id: string
  kind: 'trusted-chain'
  capKmPerDay: number
  readings: { day: number; km: number }[]
  maxSize: number
  inEveryOptimum: number[]
  inNoOptimum: number[]
}
const file = new URL('./theil-sen.json', import.meta.url)
const { cases }: { cases: (SlopeCase | ChainCase)[] } = JSON.parse(readFileSync(file, 'utf8'))

const slopes = outsideCheck({
  what: 'Theil–Sen slope, intercept, interval',
  formula: 'median of pairwise slopes; ranks (N ∓ z·σ)/2, σ² of Kendall with ties',
  source: 'theil-sen.json (scipy 1.17.1 theilslopes)',
  tolerance: { relative: 1e-12, floor: 1 },
})
const chains = outsideCheck({
  what: 'longest trusted chain of readings',
  formula: 'largest subset with 0 ≤ Δkm ≤ cap·Δday between any two',
  source: 'theil-sen.json (search over all subsets, dynamic programming)',
  tolerance: 'exact',
})
const Z = { 0.8: 1.2815515655446004, 0.95: 1.959963984540054 }

test('the file holds all twenty cases', () => {
  expect(cases).toHaveLength(20)
})

describe('Theil–Sen line', () => {
  test.each(cases.filter((c) => c.kind === 'theil-sen'))('$id', (c) => {
    for (const { level, low, high } of c.intervals) {
      const fit = theilSen(c.x, c.y, Z[level])
      if (!fit.ok) throw new Error(fit.reason)
      slopes.close(fit.slope, c.slope, c.id)
      slopes.close(fit.intercept, c.intercept, c.id)
      slopes.close(fit.low, low, c.id)
      slopes.close(fit.high, high, c.id)
      slopes.close(fit.pairs, c.pairs, c.id)
    }
  })
})

describe('longest trusted chain', () => {
  test.each(cases.filter((c) => c.kind === 'trusted-chain'))('$id', (c) => {
    const day = c.readings.map((r) => r.day)
    const km = c.readings.map((r) => r.km)
    const chosen = Array.from(longestTrustedChain(day, km, c.capKmPerDay))
    chains.equal(chosen.length, c.maxSize, c.id)
    chains.equal(
      c.inEveryOptimum.filter((i) => !chosen.includes(i)),
      [],
      c.id,
    )
    chains.equal(
      c.inNoOptimum.filter((i) => chosen.includes(i)),
      [],
      c.id,
    )
  })
})

slopes.done()
chains.done()
