/** Any sequence of records of a vehicle whose library has something of everything. */
import fc from 'fast-check'
import { at, engine, type Happening, type History, point, repaired, sign } from './one-vehicle'

/** Positions, a quick fix, a part without warning, a clock of days, a union, what lies upstream. */
export const anyLibrary = engine(
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
    sign('hot', 'code', { hose: 0.6, gasket: 0.2 }, { codes: ['P0217'], lamp: true, stop: true }),
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

export const AS_OF_KM = 198_000
export const anyHistory: fc.Arbitrary<History> = fc
  .array(
    fc.tuple(
      fc.integer({ min: 0, max: AS_OF_KM / 60 }).map((day) => day * 60),
      fc.oneof({ arbitrary: check, weight: 4 }, { arbitrary: repair, weight: 3 }, code, change),
    ),
    { maxLength: 14 },
  )
  .map((events) => events.sort((a, b) => a[0] - b[0]))

export const anyVehicle = fc.constantFrom(
  {},
  { history: 'none' as const, watchedFromKm: 90_000 },
  { history: 'full' as const, watchedFromKm: 90_000 },
)
