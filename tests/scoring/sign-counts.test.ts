/** What the looks at one vehicle tell of how often signs are seen. */
import { describe, expect, it } from 'vitest'
import { ODOMETER_SETTINGS } from '@/lib/records/odometer-settings'
import { trustOdometer } from '@/lib/records/trusted-odometer'
import { vehicleClock } from '@/lib/records/vehicle-clock'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { compileEngine } from '@/lib/scoring/engine-plan'
import { livesOf } from '@/lib/scoring/follow-vehicle'
import { statedParameters } from '@/lib/scoring/parameters'
import { SignCounts } from '@/lib/scoring/sign-counts'
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
  sign,
} from './one-vehicle'

const AS_OF_KM = 120_000
const library = engine(
  [
    point('valve', 80_000, 140_000, 9_000),
    point('hose', 80_000, 140_000, 9_000),
    point('relay', 80_000, 140_000, 0),
  ],
  [sign('drip', 'visual', { valve: 0.6, hose: 0.3 }), sign('hum', 'road', { relay: 0.5, hose: 0.2 })],
)

function counted(history: History): SignCounts {
  const [records] = groupByVehicle(recordsAt(AS_OF_KM, history))
  const asOf = dayAt(AS_OF_KM)
  const odometer = trustOdometer(records!, { capKmPerDay: ODOMETER_SETTINGS.capKmPerDay, upTo: asOf })
  const usage = { kmPerDay: KM_PER_DAY, logSd: 0, standing: false, basis: 'readings' as const }
  const clock = vehicleClock(records!, odometer, usage, asOf)
  const plan = compileEngine(library.families[0]!, null, false)
  const parameters = statedParameters(library.families[0]!, 'central')
  const watch = watchOf(records!, clock, asOf)
  const log = livesOf({ records: records!, plan, parameters, clock, watch, asOf }, asOf)
  const counts = new SignCounts()
  counts.add(log, plan, parameters)
  return counts
}

const failed = repaired('valve', { action: 'renew', found: 'failed', because: 'failure' })
const size = ({ yes, no }: { yes: number; no: number }) => yes + no

describe('looks at a sign', () => {
  it('count for nothing where nobody looked', () => {
    const counts = counted([[90_000, failed]])
    expect(counts.detect('drip', 'valve')).toEqual({ yes: 0, no: 0 })
    expect(counts.leak('drip')).toEqual({ yes: 0, no: 0 })
  })

  it('count as missed for a part that failed soon after, hardly for one that was sound for long', () => {
    const soon = counted([
      [89_900, looked('visual')],
      [90_000, failed],
    ])
    const long = counted([
      [30_000, looked('visual')],
      [90_000, failed],
    ])
    expect(soon.detect('drip', 'valve').yes).toBe(0)
    expect(soon.detect('drip', 'valve').no).toBeGreaterThan(0.97)
    expect(long.detect('drip', 'valve').no).toBeLessThan(0.02)
    expect(soon.leak('drip')).toEqual({ yes: 0, no: 1 })
  })

  it('count as shown by the part that was then found going, not by its neighbour', () => {
    const counts = counted([
      [90_000, looked('visual', at('drip'))],
      [90_000, opened('valve', 'developing')],
      [90_000, opened('hose', 'sound')],
    ])
    const valve = counts.detect('drip', 'valve')
    expect(valve.yes).toBeGreaterThan(0.97)
    expect(size(valve)).toBeCloseTo(1, 6)
    expect(size(counts.detect('drip', 'hose'))).toBe(0)
    expect(counts.leak('drip').yes).toBeCloseTo(0.005 / (1 - 0.995 * 0.4), 2)
  })

  it('count as shown without cause where everything was found sound', () => {
    const counts = counted([
      [90_000, looked('visual', at('drip'))],
      [90_000, opened('valve', 'sound')],
      [90_000, opened('hose', 'sound')],
    ])
    expect(counts.leak('drip').yes).toBeGreaterThan(0.999)
    expect(size(counts.detect('drip', 'valve'))).toBe(0)
  })

  it('say nothing of a part that breaks down without warning', () => {
    const counts = counted([
      [90_000, looked('road', at('hum'))],
      [90_100, repaired('relay', { action: 'renew', found: 'failed', because: 'failure' })],
    ])
    expect(size(counts.detect('hum', 'relay'))).toBe(0)
  })
})
