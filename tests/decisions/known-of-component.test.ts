/** What was on record of a component on a day, and whether what was advised was done: hand-made histories. */
import { describe, expect, it } from 'vitest'
import { howFollowed } from '@/lib/decisions/advice-followed'
import { knownOf, placedComponent } from '@/lib/decisions/known-of-component'
import { groupByVehicle } from '@/lib/records/vehicle-records'
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

const library = engine(
  [point('injector', 90_000, 180_000, 8000, { positions: 4 }), point('pump', 80_000, 160_000, 9000)],
  [
    sign('misfire', 'code', { injector: 0.4 }, { codes: ['P030#'], lamp: true }),
    sign('soot', 'visual', { injector: 0.3 }),
    sign('rough', 'road', { injector: 0.5, pump: 0.1 }),
    sign('drip', 'visual', { pump: 0.6 }),
  ],
)
const family = library.families[0]!
const injector2 = placedComponent(family, null, { weakPoint: 'injector', position: 2 })!
const AS_OF_KM = 60_000

const recordsOf = (history: History) => groupByVehicle(recordsAt(AS_OF_KM, history))[0]!
const known = (history: History, asOf = dayAt(AS_OF_KM)) => knownOf(recordsOf(history), injector2, asOf)
const follow = (
  advice: 'stop' | 'book' | 'check' | 'watch' | 'fine',
  history: History,
  parkedOn: number | null = null,
) => howFollowed({ advice, after: recordsOf(history), before: dayAt(AS_OF_KM), parkedOn }, injector2)

describe('what was known', () => {
  it('of a part that nobody looked at is nothing, and all of its signs were never looked for', () => {
    const { since, seen, looks, unlooked } = known([])
    expect([since, seen, looks]).toEqual([null, [], []])
    expect(unlooked).toEqual([
      { label: 'misfire', position: 2, last: null },
      { label: 'soot', position: null, last: null },
      { label: 'rough', position: null, last: null },
    ])
  })

  it('is a sign of this position, by a code too; those of other positions and parts are not', () => {
    const { seen, looks } = known([
      [50_000, { code: { code: 'P0302' } }],
      [51_000, { code: { code: 'P0303' } }],
      [52_000, looked('visual', at('drip'))],
      [58_000, looked('scan', at('misfire', 2))],
    ])
    expect(seen).toEqual([{ label: 'misfire', position: 2, days: [dayAt(50_000), dayAt(58_000)] }])
    // A look by eye that saw the pump drip looked for soot as well.
    expect(looks).toEqual([
      { kind: 'visual', count: 1, last: dayAt(52_000) },
      { kind: 'scan', count: 1, last: dayAt(58_000) },
    ])
  })

  it('is a lamp that nobody read, which looks for nothing else', () => {
    const { seen, looks, unlooked } = known([[59_500, looked('report', at('lamp-on'))]])
    // What a driver says is heard: nobody has looked yet.
    expect(looks).toEqual([])
    expect(seen.map(({ label, position }) => [label, position])).toEqual([['Engine lamp on', null]])
    expect(unlooked.map(({ label }) => label)).toEqual(['misfire', 'soot', 'rough'])
  })

  it('has a look count for a month, and says after that when it was', () => {
    const look: History = [[50_000, looked('visual')]]
    const day = dayAt(50_000)
    const labels = (asOf: number) => known(look, asOf).unlooked.map(({ label, last }) => [label, last])
    expect(labels(day + 29)).toEqual([
      ['misfire', null],
      ['rough', null],
    ])
    expect(labels(day + 30)).toEqual([
      ['misfire', null],
      ['soot', day],
      ['rough', null],
    ])
  })

  it('begins anew with the part: what was seen of the one before is not told of this', () => {
    const history: History = [
      [40_000, looked('visual', at('soot'))],
      [41_000, repaired('injector', { positions: [2] })],
    ]
    const { since, seen, looks, unlooked } = known(history)
    expect([since, seen, looks]).toEqual([dayAt(41_000), [], []])
    expect(unlooked.every(({ last }) => last === null)).toBe(true)
    expect(known(history, dayAt(40_500)).seen).toHaveLength(1)
    for (const other of [
      repaired('injector', { positions: [3] }),
      repaired('injector', { positions: [] }),
      opened('injector', 'sound', { positions: [2] }),
    ])
      expect(known([history[0]!, [41_000, other]]).since).toBeNull()
    expect(known([history[0]!, [41_000, { change: { kind: 'engine-used', engineKm: 10 } }]]).since).toBe(
      dayAt(41_000),
    )
  })

  it('is nothing that is dated or written down later', () => {
    const late = { check: { kind: 'visual' as const, seen: [at('soot')], enteredOn: dayAt(55_000) } }
    const history: History = [
      [50_000, late],
      [58_000, looked('scan', at('misfire', 2))],
    ]
    expect(known(history, dayAt(54_000)).seen).toEqual([])
    expect(known(history, dayAt(55_000)).seen.map(({ label }) => label)).toEqual(['soot'])
  })
})

describe('whether the advice was followed', () => {
  const scan: History = [[55_000, looked('scan')]]
  const work: History = [[56_000, repaired('injector', { positions: [2], action: 'temporary' })]]
  const inspection: History = [[55_500, opened('injector', 'developing', { positions: [2] })]]

  it('asks for nothing where nothing was asked', () => {
    for (const advice of ['watch', 'fine'] as const) expect(follow(advice, work)).toBeNull()
  })

  it('is told by what was done, the work before a look; another part’s work and looks are none of it', () => {
    expect(follow('check', scan)).toEqual({ how: 'looked', on: dayAt(55_000) })
    expect(follow('check', inspection)).toEqual({ how: 'opened', on: dayAt(55_500) })
    expect(follow('book', [...scan, ...inspection])).toEqual({ how: 'opened', on: dayAt(55_500) })
    expect(follow('book', [...scan, ...inspection, ...work])).toEqual({ how: 'worked', on: dayAt(56_000) })
    for (const nothing of [
      repaired('injector', { positions: [3] }),
      repaired('pump'),
      { check: { kind: 'visual' as const, lookedFor: [at('drip')] } },
      looked('report', at('soot')),
      { code: { code: 'P0302' } },
    ])
      expect(follow('check', [[55_000, nothing]])).toEqual({ how: 'nothing' })
  })

  it('counts parking for a stop alone', () => {
    expect(follow('stop', [], 20_000)).toEqual({ how: 'parked', on: 20_000 })
    expect(follow('book', [], 20_000)).toEqual({ how: 'nothing' })
    expect(follow('stop', work)).toEqual({ how: 'worked', on: dayAt(56_000) })
  })

  it('does not count the repair that found it failed, nor what came after', () => {
    const failed: History = [[AS_OF_KM, repaired('injector', { positions: [2], found: 'failed' })]]
    expect(follow('book', failed)).toEqual({ how: 'nothing' })
  })
})
