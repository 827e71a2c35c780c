/**
 * What anyone in the trade expects, one small library and one vehicle at a time. Every expectation here is
 * common practice, no source; so are the invented engine's figures.
 */
import { describe, expect, it } from 'vitest'
import { jobCost, pricesOf } from '@/lib/decisions/costs'
import { scoreFleet } from '@/lib/decisions/score-fleet'
import { ageReplacement } from '@/lib/model/age-replacement'
import type { Library } from '@/lib/records/library'
import type { CheckRow, RepairRow, SignAt } from '@/lib/records/rows'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { statedParameters } from '@/lib/scoring/parameters'
import { libraryOf } from '../simulation/libraries'
import { checkRow, readingRow, recordsOf, repairRow, vehicleRow } from '../simulation/record-rows'

const FIRST_DAY = 18_000
const KM_PER_DAY = 60
const dayAt = (km: number) => FIRST_DAY + Math.round(km / KM_PER_DAY)

type Happening = { check: Partial<CheckRow> & Pick<CheckRow, 'kind'> } | { repair: Partial<RepairRow> }
type History = [km: number, happening: Happening][]

const looked = (kind: CheckRow['kind'], ...seen: SignAt[]): Happening => ({ check: { kind, seen } })
const at = (sign: string, position: number | null = null): SignAt => ({ sign, position })
const repaired = (repair: Partial<RepairRow>): Happening => ({ repair })

/** One vehicle watched from new, 60 km a day, a reading every month, scored at an odometer. */
function scoreAt(
  library: Library,
  asOfKm: number,
  history: History,
  horizon: { km: number } | { days: number },
) {
  const unit = 'T1'
  const readings = Array.from({ length: Math.floor(asOfKm / 1800) + 1 }, (_, i) => i * 1800)
  const stamp = (km: number) => ({ unit, odometerKm: km })
  const records = recordsOf({
    vehicles: [vehicleRow({ unit, family: 'plover-22', builtOn: FIRST_DAY, inServiceOn: FIRST_DAY })],
    readings: [...readings, asOfKm].map((km) => readingRow({ ...stamp(km), readOn: dayAt(km) })),
    checks: history.flatMap(([km, h]) =>
      'check' in h ? [checkRow({ ...stamp(km), checkedOn: dayAt(km), ...h.check })] : [],
    ),
    repairs: history.flatMap(([km, h]) =>
      'repair' in h ? [repairRow({ ...stamp(km), doneOn: dayAt(km), weakPoint: '', ...h.repair })] : [],
    ),
  })
  const scores = scoreFleet({ records, library, asOf: dayAt(asOfKm), horizons: [horizon] })
  const components = scores.vehicles.flatMap((vehicle) => vehicle.components)
  return (weakPoint: string, position = 1) => {
    const found = components.find((c) => c.weakPoint === weakPoint && c.position === position)
    if (!found) throw new Error(`no score for ${weakPoint} ${position}`)
    return found
  }
}

const engine = (weakPoints: object[], signs: object[] = [], more: object = {}) =>
  libraryOf({
    labourRate: 80,
    dayOffRoad: 120,
    families: [{ key: 'plover-22', name: 'Plover 2.2', cylinders: 4, weakPoints, signs, ...more }],
  })

const point = (key: string, p10: number, p50: number, warning: number, more: object = {}) => ({
  key,
  component: key,
  failureMode: 'fails',
  clock: 'distance',
  confidence: 'experience',
  onset: { p10, p50 },
  warning,
  cost: { parts: 150, hours: 1.5, failureExtra: 500, daysOff: 1 },
  ...more,
})

const sign = (key: string, kind: string, causes: Record<string, number>, more: object = {}) => ({
  key,
  label: key,
  kind,
  causes: Object.entries(causes).map(([weakPoint, detect]) => ({ weakPoint, detect })),
  ...more,
})

describe('a misfire that comes back on cylinder 3 after its plug and coil were renewed', () => {
  const library = engine(
    [
      point('plug', 50_000, 80_000, 10_000, { positions: 4 }),
      point('coil', 80_000, 120_000, 3_000, { positions: 4 }),
      point('injector', 90_000, 180_000, 8_000, { positions: 4 }),
      point('deposits', 80_000, 150_000, 20_000),
    ],
    [
      sign(
        'misfire',
        'code',
        { plug: 0.4, coil: 0.7, injector: 0.4, deposits: 0.3 },
        { codes: ['P030#'], lamp: true, leak: 0.002 },
      ),
    ],
  )
  const renewed: History = [
    [110_000, looked('scan', at('misfire', 3))],
    [110_100, repaired({ weakPoint: 'plug', positions: [3], because: 'sign' })],
    [110_100, repaired({ weakPoint: 'coil', positions: [3], because: 'sign' })],
  ]
  const first = scoreAt(library, 110_400, renewed, { km: 5_000 })
  const returned: History = [...renewed, [110_400, looked('scan', at('misfire', 3))]]
  const again = scoreAt(library, 110_400, returned, { km: 5_000 })

  it('raises the injector of that cylinder and the inlet deposits', () => {
    for (const [key, position] of [
      ['injector', 3],
      ['deposits', 1],
    ] as const) {
      expect(again(key, position).pDeveloping).toBeGreaterThan(first(key, position).pDeveloping + 0.1)
      expect(again(key, position).pFail).toBeGreaterThan(1.3 * first(key, position).pFail)
    }
  })

  it('puts both before everything else that could misfire', () => {
    const suspects = Math.min(again('injector', 3).pDeveloping, again('deposits').pDeveloping)
    expect(suspects).toBeGreaterThan(2 * again('plug', 3).pDeveloping)
    expect(suspects).toBeGreaterThan(2 * again('coil', 3).pDeveloping)
    for (const position of [1, 2, 4]) {
      expect(suspects).toBeGreaterThan(2 * again('injector', position).pDeveloping)
      expect(suspects).toBeGreaterThan(2 * again('coil', position).pDeveloping)
    }
  })
})

describe('the loss of cam-to-crank correlation', () => {
  const chain = (stop: boolean) =>
    engine(
      [
        point('chain', 120_000, 200_000, 2_500, { severity: 'stop' }),
        point('phaser', 120_000, 220_000, 8_000, { severity: 'soon' }),
      ],
      [
        sign(
          'cam-correlation',
          'code',
          { chain: 0.8, phaser: 0.15 },
          { codes: ['P0016'], stop, leak: 0.0005 },
        ),
      ],
    )
  const seen: History = [[140_000, looked('scan', at('cam-correlation'))]]

  it('forbids driving by the chance of a torn chain alone', () => {
    expect(scoreAt(chain(false), 140_000, [], { days: 90 })('chain').advice).not.toBe('stop')
    expect(scoreAt(chain(false), 140_000, seen, { days: 90 })('chain').advice).toBe('stop')
  })

  it('forbids driving where the library says so of the sign, until everything linked is found sound', () => {
    expect(scoreAt(chain(true), 140_000, seen, { days: 90 })('chain').advice).toBe('stop')
    const one: History = [
      ...seen,
      [140_020, repaired({ weakPoint: 'chain', action: 'inspect', found: 'sound', because: 'sign' })],
    ]
    const advices = (history: History) => {
      const score = scoreAt(chain(true), 140_020, history, { days: 90 })
      return [score('chain').advice, score('phaser').advice]
    }
    expect(advices(one)).toContain('stop')
    const both: History = [
      ...one,
      [140_020, repaired({ weakPoint: 'phaser', action: 'inspect', found: 'sound', because: 'sign' })],
    ]
    expect(advices(both)).not.toContain('stop')
  })
})

describe('a fault that lights no lamp', () => {
  const library = engine(
    [point('egr-valve', 80_000, 140_000, 15_000), point('thermostat', 80_000, 140_000, 15_000)],
    [
      sign('egr-flow', 'code', { 'egr-valve': 0.85 }, { codes: ['P0401'], lamp: false }),
      sign('slow-warm', 'code', { thermostat: 0.85 }, { codes: ['P0128'], lamp: true }),
    ],
  )
  const lampReports: History = [126_000, 128_000, 130_000].map((km) => [km, looked('lamp')])
  const silent = scoreAt(library, 130_000, [], { km: 8_000 })
  const reported = scoreAt(library, 130_000, lampReports, { km: 8_000 })
  const scanned = scoreAt(library, 130_000, [...lampReports, [130_000, looked('scan')]], { km: 8_000 })

  it('stays possible however long the lamp stays dark', () => {
    expect(silent('egr-valve').pDeveloping).toBeGreaterThan(0.1)
    expect(reported('egr-valve').pDeveloping).toBeCloseTo(silent('egr-valve').pDeveloping, 9)
    expect(reported('egr-valve').pFail).toBeCloseTo(silent('egr-valve').pFail, 9)
    expect(reported('thermostat').pDeveloping).toBeLessThan(0.4 * silent('thermostat').pDeveloping)
  })

  it('falls after a full scan that is clean', () => {
    expect(scanned('egr-valve').pDeveloping).toBeLessThan(0.4 * reported('egr-valve').pDeveloping)
    expect(scanned('egr-valve').pFail).toBeLessThan(0.7 * reported('egr-valve').pFail)
  })
})

describe('an oil leak above a pump', () => {
  const library = engine(
    [point('cover-seep', 80_000, 140_000, 60_000), point('pump-gasket', 120_000, 200_000, 6_000)],
    [sign('oil-above', 'visual', { 'cover-seep': 0.9 }, { leak: 0.01 })],
    { upstream: [{ from: 'cover-seep', to: 'pump-gasket', strength: 3 }] },
  )
  const dry: History = [100_000, 104_000, 108_000, 112_000].map((km) => [km, looked('visual')])
  const oily: History = [100_000, 104_000, 108_000, 112_000].map((km) => [
    km,
    looked('visual', at('oil-above')),
  ])
  const foundSound: Happening = repaired({
    weakPoint: 'cover-seep',
    action: 'inspect',
    found: 'sound',
    because: 'sign',
  })
  const gasket = (history: History) => scoreAt(library, 125_000, history, { km: 10_000 })('pump-gasket').pFail

  it('hastens the gasket of the pump', () => {
    expect(gasket(oily)).toBeGreaterThan(1.5 * gasket(dry))
  })

  it('is taken back by a finding that nothing leaks', () => {
    const clean = gasket(dry)
    const opened = gasket([...oily, [112_000, foundSound]])
    expect(opened).toBeLessThan(clean + 0.25 * (gasket(oily) - clean))
  })
})

describe('a clip against a rattling wastegate, stated to last 16,000 km', () => {
  const library = engine(
    [
      point('turbo', 120_000, 200_000, 8_000, {
        revisions: [{ key: 'clip', lifeFactor: 0.08, confidence: 'experience', temporary: true }],
        cost: { parts: 1200, hours: 6, failureExtra: 1500, daysOff: 3 },
      }),
      point('hose', 100_000, 180_000, 6_000),
      point('pump', 130_000, 220_000, 5_000),
    ],
    [sign('rattle', 'road', { turbo: 0.7 }, { leak: 0.01 })],
  )
  const put = (action: 'temporary' | 'renew'): History => [
    [125_000, looked('road', at('rattle'))],
    [
      125_100,
      repaired({
        weakPoint: 'turbo',
        action,
        revision: action === 'temporary' ? 'clip' : null,
        found: 'developing',
        because: 'sign',
      }),
    ],
  ]
  const at16000 = (history: History) => scoreAt(library, 141_100, history, { km: 5_000 })

  it('leads to the turbocharger again by then', () => {
    const clipped = at16000(put('temporary'))
    expect(clipped('turbo').pFail).toBeGreaterThan(1.5 * clipped('hose').pFail)
    expect(clipped('turbo').pFail).toBeGreaterThan(1.5 * clipped('pump').pFail)
    expect(clipped('turbo').pDeveloping).toBeGreaterThan(0.25)
    expect(['book', 'check']).toContain(clipped('turbo').advice)
  })

  it('while a new turbocharger is then the last thing to think of', () => {
    const renewed = at16000(put('renew'))
    expect(at16000(put('temporary'))('turbo').pFail).toBeGreaterThan(10 * renewed('turbo').pFail)
    expect(renewed('turbo').pFail).toBeLessThan(renewed('hose').pFail)
  })

  it('and not at once: the first thousands of kilometres are quiet', () => {
    const soon = scoreAt(library, 126_100, put('temporary'), { km: 5_000 })
    expect(soon('turbo').pFail).toBeLessThan(0.4 * at16000(put('temporary'))('turbo').pFail)
  })
})

describe('coils without an interval, stated at 80,000 and 120,000 km', () => {
  it('have their optimum between those two', () => {
    const library = engine([
      point('coil', 80_000, 120_000, 3_000, { cost: { parts: 90, hours: 0.5, failureExtra: 260 } }),
    ])
    const [family] = library.families
    const [coil] = family!.weakPoints
    const { planned, unplanned } = jobCost(coil!, pricesOf(library, DEFAULT_SETTINGS))
    expect(unplanned).toBeCloseTo(3 * planned, 9)
    const life = statedParameters(family!).original(coil!, null)
    expect(ageReplacement(life, planned, unplanned)).toMatchObject({ ok: true, finite: true })
    const optimum = ageReplacement(life, planned, unplanned)
    if (!optimum.ok) throw new Error(optimum.reason)
    expect(optimum.tStar).toBeGreaterThan(80_000)
    expect(optimum.tStar).toBeLessThan(120_000)
  })
})

describe('plugs every 56,000 km and a belt every 120,000 km', () => {
  const library = engine([
    point('plug', 70_000, 100_000, 10_000, {
      renewEvery: 56_000,
      cost: { parts: 60, hours: 1, failureExtra: 150 },
    }),
    point('belt', 150_000, 220_000, 3_000, {
      renewEvery: 120_000,
      severity: 'stop',
      cost: { parts: 250, hours: 4, failureExtra: 3000, daysOff: 5 },
    }),
  ])
  const advice = (weakPoint: string, km: number, history: History = []) =>
    scoreAt(library, km, history, { days: 90 })(weakPoint).advice

  it.each([
    ['plug', 56_000],
    ['belt', 120_000],
  ] as const)('come due there and not before: the %s at %d km', (weakPoint, due) => {
    const keptUp: History = weakPoint === 'belt' ? [[56_000, repaired({ weakPoint: 'plug' })]] : []
    for (const share of [0.3, 0.7, 0.9, 0.97]) {
      expect(['fine', 'watch']).toContain(advice(weakPoint, Math.round(due * share), keptUp))
    }
    expect(advice(weakPoint, due + 100, keptUp)).toBe('book')
  })

  it('count from the last renewal', () => {
    const renewed: History = [[50_000, repaired({ weakPoint: 'plug', because: 'schedule', found: 'sound' })]]
    expect(advice('plug', 60_000, renewed)).not.toBe('book')
    expect(advice('plug', 106_100, renewed)).toBe('book')
  })
})

describe('a diverter valve that costs a tenth of the turbocharger and explains a third of boost faults', () => {
  const library = engine(
    [
      // As likely to show low boost as the shares say: one fault in three is the valve, two are the turbocharger.
      point('turbo', 120_000, 200_000, 9_000, { cost: { parts: 1500, hours: 0 } }),
      point('diverter', 120_000, 200_000, 9_000, { cost: { parts: 150, hours: 0 } }),
    ],
    [sign('boost-low', 'code', { turbo: 0.6, diverter: 0.3 }, { codes: ['P0299'], leak: 0 })],
  )
  const score = scoreAt(library, 130_000, [[130_000, looked('scan', at('boost-low'))]], { km: 5_000 })
  const [turbo, diverter] = [score('turbo').pDeveloping, score('diverter').pDeveloping]

  it('explains about a third of them', () => {
    expect(diverter / (turbo + diverter)).toBeGreaterThan(0.25)
    expect(diverter / (turbo + diverter)).toBeLessThan(0.42)
  })

  it('is tried first: chance resolved per cost (Kadane & Simon 1977)', () => {
    const prices = pricesOf(library, DEFAULT_SETTINGS)
    const [turboJob, diverterJob] = library.families[0]!.weakPoints.map((w) => jobCost(w, prices).planned)
    expect(diverterJob).toBeCloseTo(0.1 * turboJob!, 9)
    expect(diverter / diverterJob!).toBeGreaterThan(2 * (turbo / turboJob!))
  })
})
