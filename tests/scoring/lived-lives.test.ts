/** The lives that a fit learns from, as they are written down while one vehicle is followed. */
import { describe, expect, it } from 'vitest'
import type { LivedLife } from '@/lib/model/lived-life'
import { ODOMETER_SETTINGS } from '@/lib/records/odometer-settings'
import { trustOdometer } from '@/lib/records/trusted-odometer'
import { vehicleClock } from '@/lib/records/vehicle-clock'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { compileEngine } from '@/lib/scoring/engine-plan'
import { livesOf } from '@/lib/scoring/follow-vehicle'
import { statedParameters } from '@/lib/scoring/parameters'
import { watchOf } from '@/lib/scoring/watch'
import {
  at,
  dayAt,
  engine,
  type History,
  KM_PER_DAY,
  looked,
  opened,
  point,
  recordsAt,
  repaired,
  type Said,
  sign,
} from './one-vehicle'

const library = engine(
  [
    point('valve', 80_000, 140_000, 9_000, {
      success: 0.95,
      revisions: [
        { key: 'mk2', lifeFactor: 1.5, confidence: 'documented' },
        { key: 'clip', lifeFactor: 0.1, confidence: 'documented', temporary: true },
      ],
    }),
    point('hose', 80_000, 140_000, 9_000),
    point('relay', 80_000, 140_000, 0),
  ],
  [sign('leak', 'visual', { valve: 0.6, hose: 0.3 })],
)

function lives(asOfKm: number, history: History, more: Said & { untilKm?: number } = {}) {
  const [records] = groupByVehicle(recordsAt(asOfKm, history, more))
  const asOf = dayAt(asOfKm)
  const odometer = trustOdometer(records!, { capKmPerDay: ODOMETER_SETTINGS.capKmPerDay, upTo: asOf })
  const usage = { kmPerDay: KM_PER_DAY, logSd: 0, standing: false, basis: 'readings' as const }
  const clock = vehicleClock(records!, odometer, usage, asOf)
  const plan = compileEngine(library.families[0]!, null, false)
  const parameters = statedParameters(library.families[0]!, 'central')
  const watch = watchOf(records!, clock, asOf)
  const log = livesOf(
    { records: records!, plan, parameters, clock, watch, asOf },
    dayAt(more.untilKm ?? asOfKm),
  )
  const indexOf = (key: string) => plan.components.findIndex((c) => c.weakPoint.key === key)
  return {
    of: (key: string): LivedLife[] => log.lives[indexOf(key)]!,
    leftOut: (key: string) => log.leftOut[indexOf(key)]!,
  }
}

const valve = (history: History) => lives(120_000, history).of('valve')
const near = (age: number) => expect.closeTo(age, -2)

describe('a life', () => {
  it('that nothing happened to runs from new', () => {
    expect(valve([])).toEqual([
      {
        startAge: 0,
        developing: 0,
        entry: null,
        looks: [],
        ending: { kind: 'open', age: near(120_000) },
        ways: [{ share: 1, factors: [] }],
      },
    ])
  })

  const leak = looked('visual', at('leak'))
  it.each<[string, History, LivedLife['ending']]>([
    ['found failed', [[90_000, repaired('valve', { found: 'failed' })]], { kind: 'failed', age: 90_000 }],
    [
      'because of a failure',
      [[90_000, repaired('valve', { because: 'failure' })]],
      { kind: 'failed', age: 90_000 },
    ],
    [
      'found failed at a service: since the last look',
      [
        [60_000, looked('visual')],
        [90_000, repaired('valve', { found: 'failed', because: 'schedule' })],
      ],
      { kind: 'failed-since', age: 90_000, since: 60_000 },
    ],
    [
      'found developing at a service',
      [[90_000, repaired('valve', { found: 'developing', because: 'schedule' })]],
      { kind: 'developing', age: 90_000 },
    ],
    [
      'found developing after a sign on record',
      [
        [87_000, leak],
        [90_000, repaired('valve', { found: 'developing', because: 'sign' })],
      ],
      { kind: 'developing', age: 90_000 },
    ],
    [
      'found developing because of a sign that nobody recorded',
      [[90_000, repaired('valve', { found: 'developing', because: 'sign' })]],
      { kind: 'noticed', age: 90_000 },
    ],
    [
      'found developing long after the last sign on record',
      [
        [60_000, leak],
        [90_000, repaired('valve', { found: 'developing', because: 'sign' })],
      ],
      { kind: 'noticed', age: 90_000 },
    ],
    ['found sound', [[90_000, repaired('valve', { found: 'sound' })]], { kind: 'sound', age: 90_000 }],
    [
      'renewed with nothing recorded',
      [[90_000, repaired('valve')]],
      { kind: 'open', age: 90_000, renewed: true },
    ],
    ['found failed and left', [[90_000, opened('valve', 'failed')]], { kind: 'failed', age: 90_000 }],
  ])('%s ends so', (_, history, ending) => {
    const kept = { ...ending, age: near(ending.age) }
    expect(valve(history)[0]!.ending).toEqual(
      'since' in ending ? { ...kept, since: near(ending.since) } : kept,
    )
  })

  it('begins anew after a renewal, a quick fix, and at its share of the age after a partial repair', () => {
    const [, renewed] = valve([[50_000, repaired('valve', { revision: 'mk2' })]])
    expect(renewed).toMatchObject({ startAge: 0, developing: expect.closeTo(0.05, 9) })
    expect(renewed!.ways).toEqual([{ share: 1, factors: [0] }])
    expect(renewed!.ending.age).toBeCloseTo(70_000, -2)
    const [, fix] = valve([[50_000, repaired('valve', { action: 'temporary' })]])
    expect(fix!.ways).toEqual([{ share: 1, factors: [1] }])
    const [, partial] = valve([[50_000, repaired('valve', { action: 'partial', restored: 0.6 })]])
    expect(partial!.startAge).toBeCloseTo(20_000, -2)
    expect(partial!.ending.age).toBeCloseTo(90_000, -2)
  })

  it('of a version that nobody wrote down may be any that lasts', () => {
    const [, life] = valve([[50_000, repaired('valve', { revision: '?' })]])
    expect(life!.ways).toEqual([
      { share: 0.5, factors: [] },
      { share: 0.5, factors: [0] },
    ])
  })

  it('of a part without warning cannot begin or be found developing', () => {
    const { of } = lives(120_000, [
      [40_000, repaired('relay')],
      [70_000, opened('relay', 'developing')],
    ])
    expect(of('relay')).toMatchObject([{}, { developing: 0, looks: [] }])
  })
})

describe('a look', () => {
  it('that speaks for a part, or against it, moves its odds; what it found itself is certain', () => {
    const { of } = lives(120_000, [
      [60_000, looked('visual')],
      [80_000, looked('visual', at('leak'))],
      [90_000, opened('valve', 'sound')],
      [100_000, opened('valve', 'developing')],
    ])
    const [life] = of('valve')
    expect(life!.looks.map(({ age }) => Math.round(age / 1000))).toEqual([60, 80, 90, 100])
    const [missed, seen, sound, developing] = life!.looks.map(({ odds }) => odds)
    expect(missed).toBeLessThan(1)
    expect(seen).toBeGreaterThan(1)
    expect([sound, developing]).toEqual([0, Number.POSITIVE_INFINITY])
    expect(of('hose')[0]!.looks.map(({ age, odds }) => [Math.round(age / 1000), odds > 1])).toEqual([
      [60, false],
      [80, true],
      [90, true],
    ])
  })

  it('ends with the life: the sign that a renewal explains is not held against the new part', () => {
    const [, life] = valve([
      [80_000, looked('visual', at('leak'))],
      [81_000, repaired('valve', { found: 'developing', because: 'sign' })],
    ])
    expect(life!.looks).toEqual([])
  })
})

describe('what is not seen whole', () => {
  it('begins where the watch does, and ends where the vehicle is lost from sight', () => {
    const { of } = lives(120_000, [], { vehicle: { watchedFromOn: dayAt(50_000) }, untilKm: 90_000 })
    expect(of('valve')).toMatchObject([
      {
        startAge: 0,
        entry: { age: near(50_000), sound: false },
        ending: { kind: 'open', age: near(90_000) },
      },
    ])
  })

  it('is left out where it ended before the watch', () => {
    const { of, leftOut } = lives(120_000, [[30_000, repaired('valve')]], {
      vehicle: { watchedFromOn: dayAt(50_000) },
    })
    expect([leftOut('valve'), of('valve').length]).toEqual([1, 1])
    expect(of('valve')[0]).toMatchObject({ startAge: 0, entry: { age: near(20_000) } })
  })

  it('starts sound where it was found so on the day that the watch began', () => {
    const { of } = lives(120_000, [[50_000, opened('valve', 'sound')]], {
      vehicle: { watchedFromOn: dayAt(50_000) },
    })
    expect(of('valve')[0]).toMatchObject({ entry: { age: near(50_000), sound: true }, looks: [] })
  })

  it('is left out up to the first renewal where nothing is known of the time before', () => {
    const { of, leftOut } = lives(120_000, [[90_000, repaired('valve', { found: 'failed' })]], {
      vehicle: { history: 'none' },
      readFromKm: 60_000,
    })
    expect([leftOut('valve'), leftOut('hose')]).toEqual([1, 1])
    expect(of('valve')).toMatchObject([{ startAge: 0, ending: { kind: 'open', age: near(30_000) } }])
    expect(of('hose')).toEqual([])
  })

  it('stops at a stretch without records, and at another engine', () => {
    const gap: History = [
      [40_000, { change: { kind: 'gap-from' } }],
      [70_000, { change: { kind: 'gap-to' } }],
    ]
    expect(valve(gap)).toMatchObject([{ ending: { kind: 'open', age: near(40_000) } }])
    expect(lives(120_000, gap).leftOut('valve')).toBe(1)
    expect(valve([[40_000, { change: { kind: 'engine-new' } }]])).toMatchObject([
      { ending: { kind: 'open', age: near(40_000) } },
      { startAge: 0, ending: { kind: 'open', age: near(80_000) } },
    ])
  })
})
