/** From chances and costs to one word of advice: what comes first, and what money cannot move. */
import { describe, expect, it } from 'vitest'
import { scoreFleet } from '@/lib/decisions/score-fleet'
import { DEFAULT_SETTINGS, type Settings } from '@/lib/records/settings'
import {
  at,
  dayAt,
  engine,
  type History,
  looked,
  opened,
  point,
  recordsAt,
  repaired,
  sign,
} from '../scoring/one-vehicle'

const NO_COST = { cost: { parts: 0, hours: 0, failureExtra: 0, daysOff: 0 } }

/** The vehicle's score, and by weak point what is advised. */
function adviseAt(
  asOfKm: number,
  weakPoints: object[],
  history: History = [],
  {
    signs = [],
    settings = {},
    more = {},
  }: { signs?: object[]; settings?: Partial<Settings>; more?: object } = {},
) {
  const library = { ...engine(weakPoints, signs), ...more }
  const records = { ...recordsAt(asOfKm, history), settings: { ...DEFAULT_SETTINGS, ...settings } }
  const [vehicle] = scoreFleet({ records, library, asOf: dayAt(asOfKm), horizons: [{ days: 90 }] }).vehicles
  if (!vehicle) throw new Error('not scored')
  const of = (weakPoint: string) => {
    const found = vehicle.components.find((c) => c.weakPoint === weakPoint)
    if (!found) throw new Error(`no ${weakPoint}`)
    return found
  }
  return { vehicle, of, advice: (weakPoint: string) => of(weakPoint).advice }
}

describe('a part recorded as failed', () => {
  const failed: History = [[100_000, opened('part', 'failed')]]

  it.each([
    ['stop', 'stop'],
    ['soon', 'book'],
    ['plan', 'book'],
  ])('of severity %s is advised to %s, at the days off the road until the next slot', (severity, word) => {
    const { of } = adviseAt(100_000, [point('part', 80_000, 140_000, 9_000, { severity })], failed)
    expect(of('part').advice).toBe(word)
    expect(of('part')).toMatchObject({ costOfWaiting: 1680, waitingLow: 1680, waitingHigh: 1680 })
  })

  it('costs by the organisation’s own prices where it has any', () => {
    const settings = { slotDays: 7, dayOffRoad: 50 }
    const { of } = adviseAt(100_000, [point('part', 80_000, 140_000, 9_000)], failed, { settings })
    expect(of('part').costOfWaiting).toBe(350)
  })
})

describe('stop', () => {
  const dangerous = (more: object) => [point('part', 80_000, 140_000, 3_000, { ...NO_COST, ...more })]
  const going: History = [[100_000, opened('part', 'developing')]]

  it('is for parts that must not fail on the road, above the organisation’s limit', () => {
    expect(adviseAt(100_000, dangerous({ severity: 'stop' }), going).advice('part')).toBe('stop')
    expect(adviseAt(100_000, dangerous({ severity: 'soon' }), going).advice('part')).not.toBe('stop')
    const lenient = { settings: { stopLimit: 0.5 } }
    expect(adviseAt(100_000, dangerous({ severity: 'stop' }), going, lenient).advice('part')).not.toBe('stop')
  })

  it('comes far earlier where the failure can hurt somebody, whatever it costs', () => {
    const harmful = (harm: boolean) => adviseAt(180_000, dangerous({ severity: 'soon', harm })).advice('part')
    expect(harmful(false)).not.toBe('stop')
    expect(harmful(true)).toBe('stop')
  })

  it('comes before book: a dangerous part that is also due must not be driven with', () => {
    const both = dangerous({ severity: 'stop', renewEvery: 60_000 })
    expect(adviseAt(100_000, both, going).advice('part')).toBe('stop')
  })
})

describe('an interval that the library states', () => {
  const belt = point('belt', 150_000, 220_000, 3_000, { renewEvery: 90_000 })

  it('is not reset by a quick fix, and is by a renewal', () => {
    const withClip = { ...belt, revisions: [{ key: 'clip', lifeFactor: 0.9, temporary: true }] }
    const fixed: History = [[60_000, repaired('belt', { action: 'temporary' })]]
    expect(adviseAt(90_060, [withClip], fixed).advice('belt')).toBe('book')
    expect(adviseAt(90_060, [withClip], [[60_000, repaired('belt')]]).advice('belt')).not.toBe('book')
  })

  it('does not hide that a quick fix wears out', () => {
    const worn = {
      ...belt,
      renewEvery: 200_000,
      revisions: [{ key: 'clip', lifeFactor: 0.04, temporary: true }],
    }
    const fixed: History = [[60_000, repaired('belt', { action: 'temporary', revision: 'clip' })]]
    const { costOfWaiting, waitingLow, waitingHigh } = adviseAt(68_400, [worn], fixed).of('belt')
    expect(costOfWaiting).toBeGreaterThan(0)
    expect([waitingLow! < costOfWaiting, costOfWaiting < waitingHigh!]).toEqual([true, true])
    expect(adviseAt(68_400, [worn], fixed).advice('belt')).toBe('book')
  })

  it('does not hide a defect that is known', () => {
    const going: History = [[40_020, opened('belt', 'developing')]]
    expect(adviseAt(40_020, [belt], going).advice('belt')).toBe('book')
  })

  it('is due even where the library states no costs', () => {
    const free = { ...belt, ...NO_COST }
    expect(adviseAt(90_060, [free]).of('belt')).toMatchObject({ advice: 'book', costOfWaiting: 0 })
  })
})

describe('without costs', () => {
  it('waiting costs nothing and nothing is booked, but what is likely to fail is watched', () => {
    const old = point('part', 80_000, 140_000, 9_000, NO_COST)
    const { of } = adviseAt(150_000, [old])
    expect(of('part').costOfWaiting).toBeCloseTo(0, 12)
    expect(of('part').pFail).toBeGreaterThan(0.05)
    expect(of('part').advice).toBe('watch')
  })
})

describe('check', () => {
  const part = point('part', 80_000, 140_000, 9_000, {
    cost: { parts: 300, hours: 1, failureExtra: 3_000, daysOff: 2 },
  })
  const scan = sign('flow', 'code', { part: 0.9 }, { codes: ['P0401'], leak: 0.001 })
  const checked = (signs: object[], history: History = [], more: object = {}) =>
    adviseAt(50_040, [part], history, { signs, more }).advice('part')

  it('is advised where a look could show that acting is right', () => {
    expect(checked([])).not.toBe('check')
    expect(checked([scan])).toBe('check')
  })

  it('is kept with the look that it comes from: what that is worth, and what it could move', () => {
    const { vehicle } = adviseAt(50_040, [part], [], { signs: [scan], more: { labourRate: 80 } })
    const [look, ...others] = vehicle.looks?.worthwhile ?? []
    expect(others).toEqual([])
    expect(look).toMatchObject({
      ...{ kind: 'scan', hours: 0.3, price: 24 },
      moves: [{ weakPoint: 'part', position: 1, now: 'leave' }],
    })
    expect(look?.worth).toBeGreaterThan(0)
    expect(adviseAt(50_040, [part]).vehicle.looks?.worthwhile).toEqual([])
  })

  it('is not advised again while the window of the last look is open', () => {
    expect(checked([scan], [[49_980, looked('scan')]])).not.toBe('check')
  })

  it('is not advised where the look costs more than it is worth', () => {
    const dear = { labourRate: 100_000 }
    expect(checked([scan], [], dear)).not.toBe('check')
  })
})

describe('watch', () => {
  const half = point('half', 80_000, 140_000, 9_000, { ...NO_COST, positions: 4 })

  it('is for the vehicle where only all of its parts together pass the limit', () => {
    const { vehicle } = adviseAt(75_000, [half])
    const chances = vehicle.components.map((c) => c.pFail)
    const between = (Math.max(...chances) + vehicle.horizons[0]!.combined) / 2
    const limited = adviseAt(75_000, [half], [], { settings: { watchLimit: between } })
    expect(limited.advice('half')).toBe('fine')
    expect(limited.vehicle.advice).toBe('watch')
    const above = adviseAt(75_000, [half], [], { settings: { watchLimit: Math.min(...chances) * 0.9 } })
    expect(above.advice('half')).toBe('watch')
  })

  it('asks the organisation’s horizon, not the one that was scored', () => {
    const ask = (adviceHorizonDays: number) =>
      adviseAt(75_000, [half], [], { settings: { adviceHorizonDays } }).advice('half')
    expect(ask(90)).toBe('fine')
    expect(ask(730)).toBe('watch')
  })

  it('is less urgent than anything that any part asks for', () => {
    const failed: History = [[75_000, opened('half', 'failed')]]
    expect(adviseAt(75_000, [half], failed).vehicle.advice).toBe('book')
    const seen: History = [[75_000, looked('road', at('knock'))]]
    const signs = [sign('knock', 'road', { half: 0.5 }, { stop: true })]
    expect(adviseAt(75_000, [half], seen, { signs }).vehicle.advice).toBe('stop')
  })
})
