/** What a repair does to the belief about a part, at the central parameters, against the exact two-stage step. */
import { describe, expect, it } from 'vitest'
import { fromStatement } from '@/lib/model/elicitation'
import { propagate } from '@/lib/model/two-stage'
import { chanceDeveloping, chancesWithin, remainingKm } from '@/lib/scoring/score-components'
import { engine, followOne, type History, opened, point, repaired } from './one-vehicle'

const LIFE = fromStatement({ p10: 80_000, p50: 140_000, warning: 9_000 })
const library = engine([
  point('valve', 80_000, 140_000, 9_000, {
    positions: 2,
    success: 0.95,
    revisions: [
      { key: 'mk2', lifeFactor: 1.5, confidence: 'documented' },
      { key: 'clip', lifeFactor: 0.1, confidence: 'documented', temporary: true },
    ],
  }),
  point('relay', 80_000, 140_000, 0),
])

const follow = (asOfKm: number, history: History) => followOne(library, asOfKm, history, { central: true })
const valve = (asOfKm: number, history: History, position = 1) =>
  follow(asOfKm, history).developing('valve', position)

/** P(developing) of a part that begins so at one age and has not failed by another. */
function exact(begins: number, from: number, to: number, lifeFactor = 1): number {
  const { sound, developing } = propagate(begins, from, to, { ...LIFE, scale: LIFE.scale * lifeFactor })
  return developing / (sound + developing)
}

describe('a life', () => {
  it('begins sound when the vehicle is new', () => {
    expect(valve(120_000, [])).toBeCloseTo(exact(0, 0, 120_000), 6)
  })

  it('begins at age 0, developing with the chance that a renewal fails', () => {
    expect(valve(60_000, [[60_000, repaired('valve')]])).toBeCloseTo(0.05, 9)
    expect(valve(120_000, [[60_000, repaired('valve')]])).toBeCloseTo(exact(0.05, 0, 60_000), 6)
  })

  it('goes on at its share of the age after a partial repair, by the row or else by the library', () => {
    const half = repaired('valve', { action: 'partial' })
    expect(valve(120_000, [[90_000, half]])).toBeCloseTo(exact(0.05, 45_000, 75_000), 6)
    const most = repaired('valve', { action: 'partial', restored: 0.8 })
    expect(valve(120_000, [[90_000, most]])).toBeCloseTo(exact(0.05, 18_000, 48_000), 6)
  })

  it('of a revision has that life factor, a blank one being the original part', () => {
    const mk2 = repaired('valve', { revision: 'mk2' })
    expect(valve(150_000, [[50_000, mk2]])).toBeCloseTo(exact(0.05, 0, 100_000, 1.5), 6)
    const first: History = [
      [20_000, mk2],
      [50_000, repaired('valve')],
    ]
    expect(valve(150_000, first)).toBeCloseTo(exact(0.05, 0, 100_000), 6)
  })

  it('of a quick fix is that of the temporary revision, named or not', () => {
    const named = repaired('valve', { action: 'temporary', revision: 'clip' })
    const unnamed = repaired('valve', { action: 'temporary' })
    for (const fix of [named, unnamed]) {
      expect(valve(108_000, [[100_000, fix]])).toBeCloseTo(exact(0.05, 0, 8_000, 0.1), 6)
    }
  })

  it('of an unknown revision lies between those of the revisions that last', () => {
    const unknown = valve(150_000, [[50_000, repaired('valve', { revision: '?' })]])
    expect(unknown).toBeLessThan(exact(0.05, 0, 100_000))
    expect(unknown).toBeGreaterThan(exact(0.05, 0, 100_000, 1.5))
  })

  it('of a part without warning never begins developing', () => {
    expect(follow(60_000, [[60_000, repaired('relay')]]).developing('relay')).toBe(0)
  })
})

describe('a finding without a renewal', () => {
  it('of sound begins anew as sound at the age that it has', () => {
    const history: History = [[100_000, opened('valve', 'sound')]]
    expect(valve(100_000, history)).toBe(0)
    expect(valve(120_000, history)).toBeCloseTo(exact(0, 100_000, 120_000), 6)
  })

  it('of developing is a certainty until the part is renewed', () => {
    const history: History = [[100_000, opened('valve', 'developing')]]
    expect(valve(104_000, history)).toBeCloseTo(1, 12)
    expect(valve(104_000, [...history, [104_000, repaired('valve')]])).toBeCloseTo(0.05, 9)
  })

  it('of developing says nothing where the part gives no warning', () => {
    const untouched = follow(104_000, [])
    const found = follow(104_000, [[100_000, opened('relay', 'developing')]])
    const chance = ({ belief, clock, indexOf }: typeof found) =>
      chancesWithin(belief, clock, { km: 5_000 }).components[indexOf('relay')]!.pFail
    expect(found.developing('relay')).toBe(0)
    expect(chance(found)).toBeCloseTo(chance(untouched), 9)
  })

  it('not recorded changes nothing', () => {
    expect(valve(100_000, [[100_000, opened('valve', null)]])).toBeCloseTo(exact(0, 0, 100_000), 6)
  })
})

describe('a part recorded as failed and not renewed', () => {
  it.each([
    ['found so', opened('valve', 'failed')],
    ['opened because of a failure, with nothing recorded', opened('valve', null, { because: 'failure' })],
  ])('has failed: %s', (_, failed) => {
    const { belief, clock, indexOf } = follow(104_000, [[100_000, failed]])
    const index = indexOf('valve')
    const { components, combined } = chancesWithin(belief, clock, { days: 1 })
    expect(components[index]).toEqual({ pFail: 1, pLow: 1, pHigh: 1 })
    expect(combined).toBe(1)
    expect(chanceDeveloping(belief, index)).toBe(1)
    expect(remainingKm(belief, clock, index)).toBe(0)
  })

  it('begins a life like any other once it is renewed, also on the day on which it failed', () => {
    const failed = opened('valve', 'failed')
    expect(
      valve(120_000, [
        [90_000, failed],
        [90_060, repaired('valve')],
      ]),
    ).toBeCloseTo(exact(0.05, 0, 29_940), 6)
    const atOnce = repaired('valve', { found: 'failed', because: 'failure' })
    expect(valve(120_000, [[90_000, atOnce]])).toBeCloseTo(exact(0.05, 0, 30_000), 6)
  })

  it('is sound again where it is later found sound', () => {
    const history: History = [
      [100_000, opened('valve', 'failed')],
      [101_000, opened('valve', 'sound')],
    ]
    expect(valve(101_000, history)).toBe(0)
  })
})

describe('positions', () => {
  it('are touched by the rows that name them and by no others', () => {
    const second: History = [[60_000, repaired('valve', { positions: [2] })]]
    expect(valve(120_000, second, 1)).toBeCloseTo(exact(0, 0, 120_000), 6)
    expect(valve(120_000, second, 2)).toBeCloseTo(exact(0.05, 0, 60_000), 6)
  })

  it('are all found in the state that one row says', () => {
    const all: History = [[100_000, opened('valve', 'developing', { positions: [1, 2] })]]
    expect([valve(101_000, all, 1), valve(101_000, all, 2)]).toEqual([1, 1])
  })
})

describe('several repairs of one day', () => {
  it('happen in the order of the file', () => {
    const soundThenRenewed: History = [
      [90_000, opened('valve', 'sound')],
      [90_000, repaired('valve')],
    ]
    const renewedThenSound: History = [
      [90_000, repaired('valve')],
      [90_000, opened('valve', 'sound')],
    ]
    expect(valve(90_000, soundThenRenewed)).toBeCloseTo(0.05, 9)
    expect(valve(90_000, renewedThenSound)).toBe(0)
  })
})

describe('a finding to which the belief gave no mass', () => {
  it('overrides the belief and is listed as contradictory', () => {
    const history: History = [
      [90_000, opened('valve', 'sound')],
      [90_000, opened('valve', 'developing')],
    ]
    const { followed, developing, indexOf } = follow(90_000, history)
    expect(developing('valve')).toBe(1)
    const listed = { component: indexOf('valve'), found: 'developing' }
    expect(followed.belief.contradictions).toMatchObject([listed])
  })

  it('is not listed where the belief did give it some', () => {
    expect(follow(90_000, [[90_000, opened('valve', 'developing')]]).followed.belief.contradictions).toEqual(
      [],
    )
  })
})

it('work about no known weak point changes no belief', () => {
  expect(valve(120_000, [[60_000, repaired('other')]])).toBeCloseTo(exact(0, 0, 120_000), 6)
})
