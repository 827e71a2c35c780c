import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { longestTrustedChain } from '@/lib/model/trusted-chain'
import { runs } from '../runs'
import { cpuMs } from './cpu-time'

type Reading = { day: number; km: number }

const chain = (readings: Reading[], cap: number): number[] =>
  Array.from(
    longestTrustedChain(
      readings.map((r) => r.day),
      readings.map((r) => r.km),
      cap,
    ),
  )

const agree = (a: Reading, b: Reading, cap: number): boolean => {
  const [first, second] = a.day <= b.day ? [a, b] : [b, a]
  const step = second.km - first.km
  return step >= 0 && step <= cap * (second.day - first.day)
}

/** Ranks in time order (day, km, position) of the chosen readings, latest first: what the tie-break compares. */
const latestFirst = (readings: Reading[], chosen: number[]): number[] => {
  const inTime = readings.map((_, i) => i)
  inTime.sort((a, b) => readings[a]!.day - readings[b]!.day || readings[a]!.km - readings[b]!.km || a - b)
  return chosen.map((i) => inTime.indexOf(i)).sort((a, b) => b - a)
}

const later = (a: number[], b: number[]): boolean => {
  const differs = a.findIndex((rank, k) => rank !== b[k])
  return differs >= 0 && a[differs]! > b[differs]!
}

/** The definition, word for word: every subset in which any two agree; the largest; among these the latest. */
function bestOfAllSubsets(readings: Reading[], cap: number): number[] {
  let best: number[] = []
  for (let mask = 0; mask < 1 << readings.length; mask++) {
    const chosen = readings.map((_, i) => i).filter((i) => (mask >> i) & 1)
    if (chosen.length < best.length) continue
    if (!chosen.every((i, k) => chosen.slice(0, k).every((j) => agree(readings[j]!, readings[i]!, cap))))
      continue
    const ranks = latestFirst(readings, chosen)
    if (chosen.length > best.length || later(ranks, latestFirst(readings, best))) best = chosen
  }
  return best
}

describe('longestTrustedChain', () => {
  test('of nothing is nothing, of one reading that one', () => {
    expect(chain([], 1500)).toEqual([])
    expect(chain([{ day: 7, km: 12 }], 1500)).toEqual([0])
  })

  test('agrees with a search over all subsets, tie-break and all', () => {
    // Few days and coarse distances, so that ties, equal readings and several on a day are common.
    const reading = fc.record({
      day: fc.integer({ min: 0, max: 8 }),
      km: fc.integer({ min: 0, max: 12 }).map((v) => 50 * v),
    })
    fc.assert(
      fc.property(fc.array(reading, { maxLength: 9 }), fc.constantFrom(50, 100, 200), (readings, cap) => {
        expect(chain(readings, cap).sort((a, b) => a - b)).toEqual(bestOfAllSubsets(readings, cap))
      }),
      { numRuns: runs(300) },
    )
    fc.assert(
      fc.property(fc.array(reading, { minLength: 12, maxLength: 12 }), (readings) => {
        expect(chain(readings, 100).sort((a, b) => a - b)).toEqual(bestOfAllSubsets(readings, 100))
      }),
      { numRuns: runs(15) },
    )
  })

  test('any two of the chosen agree, and they come in time order', () => {
    const reading = fc.record({
      day: fc.integer({ min: 0, max: 3000 }),
      km: fc.double({ min: 0, max: 3e5, noNaN: true }),
    })
    fc.assert(
      fc.property(fc.array(reading, { maxLength: 200 }), (readings) => {
        const chosen = chain(readings, 1500).map((i) => readings[i]!)
        for (let k = 1; k < chosen.length; k++) {
          const [a, b] = [chosen[k - 1]!, chosen[k]!]
          expect(b.day).toBeGreaterThanOrEqual(a.day)
          expect(b.km).toBeGreaterThanOrEqual(a.km)
          expect(b.km - a.km).toBeLessThanOrEqual(1500 * (b.day - a.day) + 1e-6)
        }
      }),
    )
  })

  test('of two equal halves the later one is held', () => {
    const readings = [100, 200, 50, 60].map((km, i) => ({ day: 10 * i, km }))
    expect(chain(readings, 1000)).toEqual([2, 3])
  })

  test('of several readings on one day that fit, the highest is held', () => {
    const readings = [
      { day: 0, km: 1000 },
      { day: 5, km: 1520 },
      { day: 5, km: 1500 },
      { day: 9, km: 1900 },
    ]
    expect(chain(readings, 1000)).toEqual([0, 1, 3])
  })

  test('ten thousand readings, a third of them wild, take well under a fifth of a second', () => {
    const readings = Array.from({ length: 10_000 }, (_, i) => ({
      day: i / 4,
      km: i % 3 === 1 ? (i * 7919) % 300_000 : 15 * i,
    }))
    expect(cpuMs(() => chain(readings, 1500))).toBeLessThan(200)
    expect(chain(readings, 1500).length).toBeGreaterThan(6_600)
  })
})
