/** What is on record of the engine that is in a vehicle, and which of its faults nothing has settled. */
import { describe, expect, it } from 'vitest'
import { engineStory, knownFaults } from '@/lib/records/engine-story'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import {
  at,
  engine,
  type Happening,
  type History,
  looked,
  opened,
  point,
  recordsAt,
  repaired,
  sign,
} from '../scoring/one-vehicle'

const [family] = engine(
  [point('injector', 90_000, 180_000, 8_000, { positions: 4 }), point('pump', 90_000, 180_000, 8_000)],
  [sign('knock', 'road', { injector: 0.8 }), sign('drip', 'visual', { pump: 0.8 })],
).families
const code = (text: string, more = {}): Happening => ({ code: { code: text, ...more } })

const storyOf = (history: History) => engineStory(groupByVehicle(recordsAt(100_000, history))[0]!)
const faultsOf = (...history: History) =>
  knownFaults(storyOf(history), family!).map((fault) =>
    fault.kind === 'sign'
      ? `${fault.sign.sign}@${fault.sign.position}`
      : fault.kind === 'code'
        ? fault.code.code
        : `${fault.repair.weakPoint} ${fault.repair.found}`,
  )

it('leaves out what was of an engine that is gone', () => {
  const story = storyOf([
    [10_000, looked('road', at('knock', 1))],
    [10_000, code('P0301')],
    [20_000, opened('pump', 'failed')],
    [30_000, { change: { kind: 'engine-used', engineKm: 50_000 } }],
    [40_000, looked('visual', at('drip'))],
    [50_000, { change: { kind: 'owner' } }],
  ])
  expect([story.checks.length, story.codes.length, story.repairs.length]).toEqual([1, 0, 0])
  expect(story.since).toBeGreaterThan(0)
  expect(storyOf([[10_000, looked('road')]]).since).toBeNull()
})

describe('a fault that is known', () => {
  it('is a sign that was seen, until its cause is replaced there or a look for it sees nothing', () => {
    const seen = [50_000, looked('road', at('knock', 2))] as const
    expect(faultsOf(seen)).toEqual(['knock@2'])
    expect(faultsOf(seen, [51_000, repaired('injector', { positions: [3] })])).toEqual(['knock@2'])
    expect(faultsOf(seen, [51_000, repaired('pump')])).toEqual(['knock@2'])
    expect(faultsOf(seen, [51_000, opened('injector', 'sound', { positions: [2] })])).toEqual(['knock@2'])
    expect(faultsOf(seen, [51_000, repaired('injector', { positions: [2] })])).toEqual([])
    expect(faultsOf(seen, [51_000, looked('road')])).toEqual(['knock@2'])
    const sought: Happening = { check: { kind: 'road', seen: [], lookedFor: [at('knock', 2)] } }
    expect(faultsOf(seen, [51_000, sought])).toEqual([])
    expect(faultsOf([49_000, sought], seen)).toEqual(['knock@2'])
  })

  it('is a part that was found failed or going, or had a quick fix, until it is replaced', () => {
    const found = [50_000, opened('injector', 'developing', { positions: [1, 2] })] as const
    expect(faultsOf(found)).toEqual(['injector developing'])
    expect(faultsOf(found, [51_000, repaired('injector', { positions: [1] })])).toHaveLength(1)
    expect(faultsOf(found, [51_000, repaired('injector', { positions: [1, 2] })])).toEqual([])
    expect(faultsOf([50_000, repaired('pump', { action: 'temporary' })])).toHaveLength(1)
    expect(faultsOf([50_000, repaired('pump', { found: 'failed' })])).toEqual([])
    expect(faultsOf([50_000, opened('pump', 'sound')])).toEqual([])
  })

  it('is a code until it is cleared and not read again', () => {
    expect(faultsOf([50_000, code('P0301')])).toEqual(['P0301'])
    const cleared = [50_000, code('P0301', { clearedOn: 19_000 })] as const
    expect(faultsOf(cleared)).toEqual([])
    expect(faultsOf(cleared, [52_000, code('P0301')], [51_000, looked('visual', at('drip'))])).toEqual([
      'P0301',
      'drip@null',
    ])
  })
})
