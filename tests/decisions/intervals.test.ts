import { describe, expect, it } from 'vitest'
import { renewalAge, statedIntervalRate } from '@/lib/decisions/intervals'
import { lifeTables } from '@/lib/model/life-table'
import { logFailureDensity, logSurvival } from '@/lib/model/two-stage'
import { engine, followOne, type History, point, repaired, type Said } from '../scoring/one-vehicle'

const library = engine([
  point('plug', 70_000, 100_000, 10_000, {
    renewEvery: 56_000,
    revisions: [{ key: 'clip', lifeFactor: 0.1, temporary: true }],
  }),
])
const run = (asOfKm: number, history: History, said: Said = {}) => {
  const one = followOne(library, asOfKm, history, said)
  return renewalAge(one.belief, one.indexOf('plug'))
}

describe('the distance since the last lasting renewal', () => {
  it('counts from new, from a renewal, and not from a quick fix, a part repair or an inspection', () => {
    expect(run(30_000, [])).toBeCloseTo(30_000, 6)
    expect(run(30_000, [[12_000, repaired('plug')]])).toBeCloseTo(18_000, 6)
    for (const action of ['temporary', 'partial', 'inspect'] as const)
      expect(run(30_000, [[12_000, repaired('plug', { action })]])).toBeCloseTo(30_000, 6)
  })

  it('does not count from a quick fix that was written down as a renewal either', () => {
    const clip = repaired('plug', { action: 'renew', revision: 'clip' })
    expect(run(30_000, [[12_000, clip]])).toBeCloseTo(30_000, 6)
    expect(followOne(library, 30_000, [[12_000, clip]]).of('plug').beginning.how).toBe('temporary')
  })

  it('is plain distance, whatever the duty', () => {
    const short = engine([point('plug', 70_000, 100_000, 10_000, { duty: { short: 2 } })])
    const one = followOne(short, 30_000, [], { vehicle: { duty: 'short' } })
    expect(renewalAge(one.belief, 0)).toBeCloseTo(30_000, 6)
  })

  it('is that of the likeliest age where nothing is on record, within the interval', () => {
    const unknown: Said = { vehicle: { history: 'none', watchedFromKm: 150_000 }, readFromKm: 150_000 }
    const at = run(150_000, [], unknown)
    expect(at).toBeGreaterThan(0)
    expect(at).toBeLessThanOrEqual(56_000 + 1e-6)
  })
})

describe('the rate that a stated interval implies', () => {
  it('is the largest hazard up to the interval', () => {
    const life = { shape: 3, scale: 100_000, pfMean: 10_000 }
    const rate = statedIntervalRate(lifeTables([life], [1]), 56_000)
    expect(rate / Math.exp(logFailureDensity(56_000, life) - logSurvival(56_000, life))).toBeCloseTo(1, 1)
    expect(statedIntervalRate(lifeTables([life], [1]), 28_000)).toBeLessThan(rate)
  })
})
