/** From belief to chances: mixtures over parameters and use, distance and time, all parts together. */
import { describe, expect, it } from 'vitest'
import { failChance } from '@/lib/model/outlook'
import type { Usage } from '@/lib/records/usage'
import { meanAhead, usageNodes } from '@/lib/scoring/ahead'
import { chancesWithin, remainingKm } from '@/lib/scoring/score-components'
import { engine, followOne, KM_PER_DAY, opened, point, repaired } from './one-vehicle'

const library = engine(
  [
    point('valve', 80_000, 140_000, 9_000),
    point('hose', 1_500, 2_600, 100, { clock: 'time' }),
    point('pump', 3_000, 6_000, 200, { clock: 'hours' }),
    point('seep', 80_000, 140_000, 60_000),
    point('gasket', 120_000, 200_000, 6_000),
  ],
  [],
  { upstream: [{ from: 'seep', to: 'gasket', strength: 3 }] },
)
const UNCERTAIN: Usage = { kmPerDay: KM_PER_DAY, logSd: 0.3, standing: false, basis: 'readings' }
const STANDING: Usage = { kmPerDay: 0, logSd: 0, standing: true, basis: 'readings' }
const AT = 120_000
const one = followOne(library, AT, [])
const chanceOf = (asked: typeof one, horizon: { days: number } | { km: number }, weakPoint: string) =>
  chancesWithin(asked.belief, asked.clock, horizon).components[asked.indexOf(weakPoint)]!

describe('how far the clocks run', () => {
  it('is certain where use is: so many days, so much distance, so many hours', () => {
    expect(usageNodes(one.clock, { days: 100 })).toEqual([
      { weight: 1, ahead: { distance: 6_000, hours: one.clock.ahead(100).hours, time: 100 } },
    ])
    expect(one.clock.ahead(100).hours).toBeCloseTo(6_000 / 38, 6)
  })

  it('spreads over three rates of a lognormal in days; in km the distance is certain and the time is not', () => {
    const { clock } = followOne(library, AT, [], { usage: UNCERTAIN })
    const [slow, median, fast] = usageNodes(clock, { days: 100 }).map((n) => n.ahead)
    expect(median!.distance).toBeCloseTo(6_000, 9)
    expect(slow!.distance / 6_000).toBeCloseTo(6_000 / fast!.distance, 9)
    expect(fast!.distance / 6_000).toBeCloseTo(Math.exp(0.3 * Math.sqrt(3)), 9)
    expect([slow!.time, fast!.time]).toEqual([100, 100])
    const inKm = usageNodes(clock, { km: 6_000 }).map((n) => n.ahead)
    expect(inKm.map((a) => a.distance)).toEqual([6_000, 6_000, 6_000])
    expect(inKm[0]!.time).toBeGreaterThan(inKm[2]!.time)
    const mean = usageNodes(clock, { days: 100 }).reduce((a, n) => a + n.weight * n.ahead.distance, 0)
    expect(meanAhead(clock, { days: 100 }).distance / mean).toBeCloseTo(1, 3)
  })

  it('stands still for a vehicle that stands, but for time; a horizon in km lasts at most 3,000 days', () => {
    const { clock } = followOne(library, AT, [], { usage: STANDING })
    expect(usageNodes(clock, { days: 100 })[0]!.ahead).toEqual({ distance: 0, hours: 0, time: 100 })
    expect(usageNodes(clock, { km: 5_000 })[0]!.ahead).toMatchObject({ distance: 5_000, time: 3_000 })
  })
})

describe('a chance', () => {
  it('is the mean over parameters and rates of use, its band their percentiles', () => {
    const asked = followOne(library, AT, [], { usage: UNCERTAIN })
    const strands = asked.of('valve').currentNodes()
    const byHand = usageNodes(asked.clock, { days: 90 }).reduce(
      (a, node) => a + node.weight * failChance(strands, node.ahead.distance),
      0,
    )
    const { pFail, pLow, pHigh } = chanceOf(asked, { days: 90 }, 'valve')
    expect(pFail).toBeCloseTo(byHand, 12)
    expect(pLow).toBeLessThan(pFail)
    expect(pHigh).toBeGreaterThan(pFail)
  })

  it('has a wider band the less sure the author is', () => {
    const widths = (['documented', 'experience', 'hunch'] as const).map((confidence) => {
      const own = engine([point('valve', 80_000, 140_000, 9_000, { confidence })])
      const { pLow, pHigh } = chanceOf(followOne(own, AT, []), { days: 90 }, 'valve')
      return pHigh / pLow
    })
    expect(widths[0]!).toBeLessThan(widths[1]!)
    expect(widths[1]!).toBeLessThan(widths[2]!)
  })

  it('is the same in days and in km where use is certain', () => {
    for (const key of ['valve', 'hose', 'pump', 'gasket'])
      expect(chanceOf(one, { days: 100 }, key).pFail).toBeCloseTo(chanceOf(one, { km: 6_000 }, key).pFail, 9)
  })

  it('goes on for parts that age by time while the vehicle stands, and not for those that age by use', () => {
    const asked = followOne(library, AT, [], { usage: STANDING })
    expect(chanceOf(asked, { days: 365 }, 'hose').pFail).toBeGreaterThan(0.1)
    // What is developing fails by distance too.
    expect(chanceOf(asked, { days: 365 }, 'valve').pFail).toBe(0)
  })
})

describe('all parts together', () => {
  it('share the rate of use, and are independent at each', () => {
    const asked = followOne(library, AT, [], { usage: UNCERTAIN })
    const { belief, clock } = asked
    const spared = usageNodes(clock, { days: 90 }).reduce((a, node) => {
      const steps = belief.ageingAhead(node.ahead)
      return (
        a +
        node.weight *
          belief.beliefs.reduce((p, state, c) => p * (1 - failChance(state.currentNodes(), steps[c]!)), 1)
      )
    }, 0)
    expect(chancesWithin(belief, clock, { days: 90 }).combined).toBeCloseTo(1 - spared, 12)
  })
})

describe('the distance left', () => {
  it.each(['valve', 'hose', 'pump'])('is that within which the chance is one half: the %s', (key) => {
    const left = remainingKm(one.belief, one.clock, one.indexOf(key))
    expect(chanceOf(one, { km: left! }, key).pFail).toBeCloseTo(0.5, 4)
  })

  it('is that for a part below a defect as well, certain or to come', () => {
    for (const history of [[], [[AT, opened('seep', 'developing')]], [[AT, repaired('seep')]]] as const) {
      const asked = followOne(library, AT, history)
      const left = remainingKm(asked.belief, asked.clock, asked.indexOf('gasket'))
      expect(chanceOf(asked, { km: left! }, 'gasket').pFail).toBeCloseTo(0.5, 2)
    }
  })

  it('of a defect that is known is near its median warning', () => {
    const going = followOne(library, AT, [[AT, opened('valve', 'developing')]], { central: true })
    expect(remainingKm(going.belief, going.clock, going.indexOf('valve'))).toBeCloseTo(9_000, 0)
  })

  it('is not known of a vehicle that stands', () => {
    const asked = followOne(library, AT, [], { usage: STANDING })
    expect(remainingKm(asked.belief, asked.clock, 0)).toBeNull()
  })
})
