/** What was seen on a vehicle as a question of where the fault is. */
import { describe, expect, it } from 'vitest'
import type { AdviceGround } from '@/lib/decisions/advice'
import { longRunRates, pricesOf } from '@/lib/decisions/costs'
import { findFault, signsAnswered } from '@/lib/decisions/fault-finding'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { at, engine, followOne, type History, looked, point, repaired, sign } from '../scoring/one-vehicle'

const perCylinder = { positions: 4 }
const library = engine(
  [
    point('plug', 60_000, 110_000, 4_000, { ...perCylinder, cost: { parts: 15, hours: 0.4 } }),
    point('coil', 90_000, 160_000, 3_000, { ...perCylinder, cost: { parts: 60, hours: 0.3 } }),
    point('injector', 100_000, 190_000, 8_000, { ...perCylinder, cost: { parts: 180, hours: 1.5 } }),
    point('pump', 100_000, 200_000, 6_000),
  ],
  [
    sign('misfire', 'code', { plug: 0.5, coil: 0.6, injector: 0.35 }, { codes: ['P030#'], leak: 0.002 }),
    sign('leak-off', 'measure', { injector: 0.8 }, { positions: 4, hours: 0.5, leak: 0.02 }),
    sign('whine', 'road', { pump: 0.5 }),
  ],
)

const faultAt = (km: number, history: History) => findFault(groundAt(km, history))

function groundAt(km: number, history: History): AdviceGround {
  const one = followOne(library, km, history)
  const prices = pricesOf(library, DEFAULT_SETTINGS)
  return {
    vehicle: one.followed,
    clock: one.clock,
    parameters: one.parameters,
    prices,
    settings: DEFAULT_SETTINGS,
    rates: longRunRates(prices),
  }
}

describe('where the fault is', () => {
  const seen: History = [[119_000, looked('scan', at('misfire', 3))]]

  it('is asked of the parts that can cause what was seen, at its position', () => {
    const found = faultAt(119_500, seen)!
    expect(found.seen).toEqual([{ sign: 'misfire', position: 3 }])
    expect(new Set(found.causes.map(({ weakPoint }) => weakPoint))).toEqual(
      new Set(['plug', 'coil', 'injector']),
    )
    expect(found.causes.every(({ position }) => position === 3)).toBe(true)
    expect(found.causes.reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(1, 10)
    expect(found.saving).toBeGreaterThan(-1e-9)
  })

  it('is asked of a sign seen on the very day on which the records begin', () => {
    const firstDay = faultAt(119_000, [[119_000, looked('scan', at('misfire', 3))]])
    expect(firstDay?.seen).toEqual([{ sign: 'misfire', position: 3 }])
  })

  it('moves on to what is left when the misfire comes back after plug and coil', () => {
    const back: History = [
      ...seen,
      [119_200, repaired('plug', { positions: [3], because: 'sign' })],
      [119_200, repaired('coil', { positions: [3], because: 'sign' })],
      [120_000, looked('scan', at('misfire', 3))],
    ]
    expect(faultAt(119_300, back.slice(0, 3))).toBeNull()
    const found = faultAt(120_000, back)!
    expect(found.causes[0]).toMatchObject({ weakPoint: 'injector', position: 3 })
    expect(found.causes[0]!.chance).toBeGreaterThan(
      faultAt(119_500, seen)!.causes.find((c) => c.weakPoint === 'injector')!.chance,
    )
  })

  it('offers the looks that could tell the causes apart, at their own hours', () => {
    const doubtful = engine(
      [
        point('coil', 90_000, 160_000, 3_000, { cost: { parts: 400, hours: 2 } }),
        point('injector', 90_000, 160_000, 3_000, { cost: { parts: 500, hours: 3 } }),
      ],
      [
        sign('misfire', 'code', { coil: 0.6, injector: 0.6 }, { codes: ['P0303'] }),
        sign('leak-off', 'measure', { injector: 0.9 }, { hours: 0.5, leak: 0.01 }),
      ],
    )
    const one = followOne(doubtful, 119_500, [[119_000, looked('scan', at('misfire'))]])
    const prices = pricesOf(doubtful, DEFAULT_SETTINGS)
    const ground = {
      vehicle: one.followed,
      clock: one.clock,
      parameters: one.parameters,
      prices,
      settings: DEFAULT_SETTINGS,
      rates: longRunRates(prices),
    }
    const { steps } = findFault(ground)!
    expect(steps[0]).toMatchObject({ look: 'leak-off', cost: 40 })
  })

  it('is not asked where nothing was seen, or long ago', () => {
    expect(faultAt(119_500, [])).toBeNull()
    expect(faultAt(130_000, seen)).toBeNull()
  })
})

describe('a part replaced on trial', () => {
  const trial: History = [
    [119_000, looked('scan', at('misfire', 3))],
    [119_200, repaired('plug', { positions: [3], because: 'sign' })],
  ]
  const answeredAt = (km: number, history: History = trial) => signsAnswered(groundAt(km, history))

  it('has not helped before it was driven 1,500 km without the sign, however long it stood', () => {
    const [soon] = answeredAt(119_900)
    expect(soon).toMatchObject({ sign: 'misfire', position: 3, helped: false })
    expect(soon!.renewed).toMatchObject([{ weakPoint: 'plug', position: 3 }])
    expect(soon!.drivenKm).toBeGreaterThan(0)
    expect(soon!.drivenKm).toBeLessThan(1500)
    const [driven] = answeredAt(121_500)
    expect(driven!.helped).toBe(true)
    expect(driven!.drivenKm).toBeGreaterThanOrEqual(1500)
  })

  it('is no answer where nothing was replaced, or the sign came back', () => {
    expect(answeredAt(119_900, trial.slice(0, 1))).toEqual([])
    expect(answeredAt(120_200, [...trial, [120_000, looked('scan', at('misfire', 3))]])).toEqual([])
  })
})
