/** Laws that hold whatever is on record. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { sum } from '@/lib/model/strands'
import { chanceDeveloping, chancesWithin, remainingKm } from '@/lib/scoring/score-components'
import { runs } from '../runs'
import {
  at,
  engine,
  followOne,
  type Happening,
  type History,
  looked,
  type OneVehicle,
  point,
  repaired,
  sign,
} from './one-vehicle'

const library = engine(
  [
    point('coil', 80_000, 140_000, 3_000, { positions: 2 }),
    point('deposits', 60_000, 110_000, 20_000, { success: 0.9 }),
    point('seep', 60_000, 110_000, 20_000, { revisions: [{ key: 'mk2', lifeFactor: 1.5 }] }),
    point('gasket', 100_000, 160_000, 6_000, {
      revisions: [{ key: 'clip', lifeFactor: 0.05, temporary: true }],
    }),
    point('belt', 100_000, 125_000, 0, { renewEvery: 90_000 }),
    point('hose', 1_500, 2_600, 100, { clock: 'time' }),
  ],
  [
    sign(
      'misfire',
      'code',
      { coil: 0.7, deposits: 0.3 },
      { codes: ['P030#', 'P0300'], lamp: true, positions: 2 },
    ),
    sign('oil', 'visual', { seep: 0.6, gasket: 0.5 }, { leak: 0 }),
    sign('hot', 'code', { hose: 0.6, gasket: 0.2 }, { codes: ['P0217'], lamp: true }),
  ],
  { upstream: [{ from: 'seep', to: 'gasket', strength: 4 }] },
)

const WEAK_POINTS = ['coil', 'deposits', 'seep', 'gasket', 'belt', 'hose'] as const
const SEEN = [at('misfire', 1), at('misfire', 2), at('misfire'), at('oil'), at('hot'), at('lamp-on')]

const check: fc.Arbitrary<Happening> = fc
  .record({
    kind: fc.constantFrom('scan', 'visual', 'road', 'lamp', 'report'),
    seen: fc.subarray(SEEN),
    kmSinceCleared: fc.constantFrom(null, 0, 50),
  })
  .map((each) => ({ check: each }))
const code: fc.Arbitrary<Happening> = fc
  .record({
    code: fc.constantFrom('P0301', 'P0300', 'P0217', 'P9999'),
    state: fc.constantFrom('stored', 'pending', 'permanent'),
  })
  .map((each) => ({ code: each }))
const repair: fc.Arbitrary<Happening> = fc
  .record({
    weakPoint: fc.constantFrom(...WEAK_POINTS, 'other'),
    action: fc.constantFrom('renew', 'partial', 'temporary', 'inspect'),
    found: fc.constantFrom(null, 'sound', 'developing', 'failed'),
    because: fc.constantFrom(null, 'sign', 'failure', 'schedule', 'together'),
    revision: fc.constantFrom(null, '?'),
    positions: fc.constantFrom<number[]>([1], [1, 2], [2]),
  })
  .map(({ weakPoint, ...more }) => repaired(weakPoint, more))
const change: fc.Arbitrary<Happening> = fc
  .constantFrom('engine-new', 'engine-used', 'engine-rebuilt', 'owner', 'gap-from', 'gap-to')
  .map((kind) => ({ change: { kind, engineKm: kind === 'engine-used' ? 80_000 : null } }))

const AS_OF = 198_000
const history: fc.Arbitrary<History> = fc
  .array(
    fc.tuple(
      fc.integer({ min: 0, max: AS_OF / 60 }).map((day) => day * 60),
      fc.oneof({ arbitrary: check, weight: 4 }, { arbitrary: repair, weight: 3 }, code, change),
    ),
    { maxLength: 14 },
  )
  .map((events) => events.sort((a, b) => a[0] - b[0]))

const vehicle = fc.constantFrom(
  {},
  { history: 'none' as const, watchedFromKm: 90_000 },
  { history: 'full' as const, watchedFromKm: 90_000 },
)

const near1 = (total: number) => expect(Math.abs(total - 1)).toBeLessThan(1e-9)
const isShare = (p: number) => {
  expect(p).toBeGreaterThanOrEqual(0)
  expect(p).toBeLessThanOrEqual(1)
}

function massesSumToOne({ belief }: OneVehicle) {
  belief.beliefs.forEach((state, component) => {
    near1(sum(state.central.sound) + sum(state.central.developing))
    const nodes = state.currentNodes()
    near1(sum(nodes.sound) + sum(nodes.developing))
    for (const mass of [...nodes.sound, ...nodes.developing]) isShare(mass)
    const { joint, index } = belief.jointOf(component)
    joint.marginal(index, state.asked.sound, state.asked.developing)
    near1(sum(state.asked.sound) + sum(state.asked.developing))
  })
}

function chancesLieInTheirBands({ belief, clock }: OneVehicle) {
  for (const horizon of [{ days: 90 }, { km: 100_000 }]) {
    const { components, combined } = chancesWithin(belief, clock, horizon)
    for (const { pFail, pLow, pHigh } of components) {
      for (const p of [pFail, pLow, pHigh]) isShare(p)
      expect(pFail).toBeGreaterThanOrEqual(pLow)
      expect(pHigh).toBeGreaterThanOrEqual(pFail)
    }
    isShare(combined)
    expect(combined).toBeGreaterThanOrEqual(Math.max(...components.map((c) => c.pFail)) - 1e-12)
  }
}

function agesAndDistancesAreNumbers({ belief, clock }: OneVehicle) {
  belief.beliefs.forEach((state, component) => {
    for (const age of state.central.age) expect(age).toBeGreaterThanOrEqual(0)
    isShare(chanceDeveloping(belief, component))
    expect(remainingKm(belief, clock, component) ?? 0).toBeGreaterThanOrEqual(0)
  })
}

function chancesGrowWithTheHorizon({ belief, clock }: OneVehicle) {
  const at = (km: number) => chancesWithin(belief, clock, { km }).components.map((c) => c.pFail)
  const chances = [10, 1_000, 10_000, 100_000].map(at)
  for (let h = 1; h < chances.length; h++) {
    chances[h]!.forEach((p, c) => {
      expect(p).toBeGreaterThanOrEqual(chances[h - 1]![c]! - 1e-9)
    })
  }
}

it('after any sequence of records masses sum to 1, chances lie in their bands and grow with the horizon', () => {
  fc.assert(
    fc.property(history, vehicle, (events, said) => {
      const one = followOne(library, AS_OF, events, { vehicle: said })
      massesSumToOne(one)
      chancesLieInTheirBands(one)
      agesAndDistancesAreNumbers(one)
      chancesGrowWithTheHorizon(one)
    }),
    { numRuns: runs(60), seed: 20_260_630 },
  )
})

describe('a part older than any model of it allows', () => {
  it.each([
    ['that fails without warning', 0],
    ['with the shortest warning', 30],
  ])('%s keeps its masses and its chances numbers', (_, warning) => {
    const steep = engine([point('belt', 50_000, 61_000, warning)], [sign('squeal', 'road', { belt: 0.4 })])
    for (const central of [true, false]) {
      const { belief, clock } = followOne(steep, 400_000, [[399_000, looked('road', at('squeal'))]], {
        central,
      })
      const { sound, developing } = belief.beliefs[0]!.central
      near1(sum(sound) + sum(developing))
      const chance = chancesWithin(belief, clock, { days: 90 }).components[0]!
      expect(chance.pFail).toBeGreaterThan(0.5)
      expect(chance.pFail).toBeLessThanOrEqual(1)
      expect(remainingKm(belief, clock, 0)).toBeGreaterThan(0)
    }
  })
})
