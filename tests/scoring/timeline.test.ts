import { describe, expect, it } from 'vitest'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { compileEngine } from '@/lib/scoring/engine-plan'
import { timelineOf } from '@/lib/scoring/timeline'
import {
  at,
  dayAt,
  engine,
  FIRST_DAY,
  type History,
  KM_PER_DAY,
  looked,
  opened,
  point,
  recordsAt,
  repaired,
  sign,
} from './one-vehicle'

const library = engine(
  [point('coil', 80_000, 140_000, 3_000, { positions: 4 }), point('valve', 80_000, 140_000, 9_000)],
  [
    sign('misfire', 'code', { coil: 0.7 }, { codes: ['P030#', 'P0300'], lamp: true }),
    sign('flow', 'code', { valve: 0.8 }, { codes: ['P0401'] }),
    sign('hiss', 'road', { valve: 0.5 }),
    sign('soot', 'visual', { valve: 0.5 }),
  ],
)
const plan = compileEngine(library.families[0]!, null, true)
const name = (i: number) => {
  const { key, position, members } = plan.signs[i]!
  return members.length > 0 ? `${key}@*` : position === null ? key : `${key}@${position}`
}
const kmAt = (day: number) => (day - FIRST_DAY) * KM_PER_DAY

function eventsOf(history: History, asOfKm = 60_000) {
  const [records] = groupByVehicle(recordsAt(asOfKm, history))
  return timelineOf(records!, plan, kmAt, null, dayAt(asOfKm))
}

/** The looks in order, as `what was seen / what was looked for and not seen`. */
function looksOf(history: History): string[] {
  return eventsOf(history).flatMap((event) =>
    event.kind === 'look'
      ? [`${event.look.seen.map(name).join(' ')} / ${event.look.lookedFor.map(name).join(' ')}`]
      : [],
  )
}

describe('the order of events', () => {
  it('is by day, then codes and checks before repairs, whatever the order of the rows', () => {
    const events = eventsOf([
      [50_000, repaired('valve')],
      [50_000, looked('road')],
      [50_000, { code: { code: 'P0401' } }],
      [40_020, looked('visual')],
    ])
    expect(events.map((e) => e.kind)).toEqual(['look', 'look', 'look', 'repair'])
    expect(events.map((e) => e.day)).toEqual([40_020, 50_000, 50_000, 50_000].map(dayAt))
  })

  it('keeps the order of the file within a day and kind', () => {
    const events = eventsOf([
      [50_000, opened('valve', 'sound')],
      [50_000, repaired('coil', { positions: [2] })],
      [50_000, repaired('coil', { positions: [1] })],
    ])
    expect(events.map((e) => (e.kind === 'repair' ? e.repair.positions : []))).toEqual([[1], [2], [1]])
  })

  it('leaves out what is dated or was entered after the as-of date', () => {
    const [day, later] = [dayAt(50_000), dayAt(60_000) + 1]
    const late: History = [
      [50_000, { check: { kind: 'road', enteredOn: later } }],
      [50_000, { code: { code: 'P0401', enteredOn: later } }],
      [50_000, repaired('valve', { enteredOn: later })],
      [50_000, { change: { kind: 'owner', enteredOn: later } }],
      [60_060, looked('road')],
    ]
    expect(eventsOf(late)).toEqual([])
    expect(eventsOf([[50_000, repaired('valve', { enteredOn: day + 5 })]])).toHaveLength(1)
  })
})

describe('what a check looks for where nothing else is said', () => {
  it.each([
    ['scan', ' / misfire@1 misfire@2 misfire@3 misfire@4 flow'],
    ['lamp', ' / misfire@1 misfire@2 misfire@3 misfire@4'],
    ['road', ' / hiss'],
    ['visual', ' / soot'],
    ['measure', ' / '],
    ['report', ' / '],
  ] as const)('%s', (kind, expected) => {
    expect(looksOf([[50_000, looked(kind)]])).toEqual([expected])
  })

  it('is narrowed by what is listed, a positioned sign without position at all its positions', () => {
    const check = { kind: 'scan' as const, lookedFor: [at('misfire', 2), at('flow')] }
    expect(looksOf([[50_000, { check }]])).toEqual([' / misfire@2 flow'])
    const anywhere = { kind: 'scan' as const, lookedFor: [at('misfire')] }
    expect(looksOf([[50_000, { check: anywhere }]])).toEqual([' / misfire@1 misfire@2 misfire@3 misfire@4'])
  })

  it('is what a report of a driver saw and nothing besides', () => {
    expect(looksOf([[50_000, looked('report', at('hiss'))]])).toEqual(['hiss / '])
  })

  it('is not contradicted by a sign that another kind of check would have found', () => {
    expect(looksOf([[50_000, looked('road', at('soot'))]])).toEqual(['soot / hiss'])
  })
})

describe('a sighting without its position', () => {
  it('is the union over the positions, which are then not absent either', () => {
    expect(looksOf([[50_000, looked('scan', at('misfire'))]])).toEqual(['misfire@* / flow'])
  })

  it('is what a code that names no cylinder says', () => {
    expect(looksOf([[50_000, { code: { code: 'P0300' } }]])).toEqual(['misfire@* / '])
    expect(looksOf([[50_000, { code: { code: 'P0303' } }]])).toEqual(['misfire@3 / '])
  })
})

describe('codes and a scan of one day', () => {
  it('do not contradict each other, at a position or without one', () => {
    const scanBeside = (code: string) =>
      looksOf([
        [50_000, { code: { code } }],
        [50_000, looked('scan')],
      ])
    expect(scanBeside('P0303')).toEqual(['misfire@3 / ', ' / misfire@1 misfire@2 misfire@4 flow'])
    expect(scanBeside('P0300')).toEqual(['misfire@* / ', ' / flow'])
  })

  it('speak for themselves on different days', () => {
    const found = looksOf([
      [50_000, { code: { code: 'P0401' } }],
      [50_060, looked('scan')],
    ])
    expect(found[1]).toContain('flow')
  })

  it('a code that the family does not know has no effect', () => {
    expect(eventsOf([[50_000, { code: { code: 'P1ABC' } }]])).toEqual([])
  })
})

describe('the lamp', () => {
  it('lit and not read stands for the signs that light it, none of which is then absent', () => {
    expect(looksOf([[50_000, looked('lamp', at('lamp-on'))]])).toEqual(['lamp-on@* / '])
    expect(looksOf([[50_000, looked('scan', at('lamp-on'))]])).toEqual(['lamp-on@* / flow'])
  })

  it('looked for and dark is the silence of the signs that light it', () => {
    const check = { kind: 'report' as const, lookedFor: [at('lamp-on')] }
    expect(looksOf([[50_000, { check }]])).toEqual([' / misfire@1 misfire@2 misfire@3 misfire@4'])
  })
})

describe('silence after codes were cleared', () => {
  it.each([
    [null, 1],
    [0, 0],
    [40, 0.25],
    [160, 1],
    [5_000, 1],
  ])('%s km ago counts in the share %s', (kmSinceCleared, share) => {
    const [event] = eventsOf([[50_000, { check: { kind: 'scan', kmSinceCleared } }]])
    expect(event).toMatchObject({ look: { share } })
  })
})
