/** The watch, unknown history, and what happens to whole engines. */
import { describe, expect, it } from 'vitest'
import { fromStatement } from '@/lib/model/elicitation'
import { propagate } from '@/lib/model/two-stage'
import type { ChangeRow } from '@/lib/records/rows'
import {
  at,
  engine,
  followOne,
  type Happening,
  type History,
  looked,
  opened,
  point,
  repaired,
  type Said,
  sign,
} from './one-vehicle'

const LIFE = fromStatement({ p10: 80_000, p50: 140_000, warning: 9_000 })
const library = engine(
  [
    point('valve', 80_000, 140_000, 9_000, { success: 0.95 }),
    point('belt', 100_000, 160_000, 2_000, { renewEvery: 60_000 }),
    point('seep', 80_000, 140_000, 40_000),
    point('gasket', 120_000, 200_000, 6_000),
  ],
  [sign('flow', 'code', { valve: 0.8 }, { codes: ['P0401'] })],
  { upstream: [{ from: 'seep', to: 'gasket', strength: 3 }] },
)
const follow = (asOfKm: number, history: History, said: Said & { central?: boolean } = {}) =>
  followOne(library, asOfKm, history, { central: true, ...said })

function exact(begins: number, from: number, to: number): number {
  const { sound, developing } = propagate(begins, from, to, LIFE)
  return developing / (sound + developing)
}
const changed = (kind: ChangeRow['kind'], more: Partial<ChangeRow> = {}): Happening => ({
  change: { kind, ...more },
})
const UNKNOWN = { vehicle: { history: 'none' as const, watchedFromKm: 150_000 }, readFromKm: 150_000 }

describe('another engine', () => {
  it.each(['engine-new', 'engine-rebuilt'] as const)('%s begins every life anew', (kind) => {
    const one = follow(150_000, [[90_000, changed(kind)]])
    expect(one.developing('valve')).toBeCloseTo(exact(0, 0, 60_000), 6)
    expect(one.of('belt').renewedAt).toBeCloseTo(90_000, 6)
  })

  it('used, begins with the unknown history of its own distance', () => {
    const [young, old] = [10_000, 250_000].map((engineKm) =>
      follow(150_000, [[150_000, changed('engine-used', { engineKm })]]),
    )
    expect(young!.of('valve').beginning.how).toBe('unknown')
    expect(young!.developing('valve')).toBeLessThan(0.01)
    expect(old!.developing('valve')).toBeGreaterThan(0.03)
    const oldest = Math.max(...young!.of('valve').central.age)
    expect(oldest).toBeCloseTo(10_000, 3)
  })

  it('forgets what had failed and what was wrong upstream', () => {
    const worn: History = [
      [60_000, opened('seep', 'developing')],
      [90_000, opened('valve', 'failed')],
      [90_000, changed('engine-new')],
    ]
    const one = follow(110_000, worn)
    const fresh = follow(110_000, [[90_000, changed('engine-new')]])
    expect(one.of('valve').failed).toBe(false)
    expect(one.of('gasket').central.age[0]).toBeCloseTo(fresh.of('gasket').central.age[0]!, 6)
    expect(one.of('gasket').central.age[0]).toBeGreaterThan(19_999)
  })

  it('before the watch of a vehicle of unknown history replaces the unknown ages', () => {
    const one = follow(160_000, [[140_000, changed('engine-new')]], { ...UNKNOWN, readFromKm: 132_000 })
    expect(one.of('valve').beginning.how).toBe('original')
    expect(one.developing('valve')).toBeCloseTo(exact(0, 0, 20_000), 4)
  })

  it('is not what a new owner or a new instrument is', () => {
    const untouched = follow(150_000, []).developing('valve')
    for (const kind of ['owner', 'cluster'] as const) {
      const one = follow(150_000, [[90_000, changed(kind, { offsetKm: 0 })]])
      expect(one.developing('valve')).toBeCloseTo(untouched, 9)
    }
  })
})

describe('a gap in the records', () => {
  const gap = (...more: History): History => [
    [60_000, changed('gap-from')],
    ...more,
    [150_000, changed('gap-to')],
  ]

  it('leaves open whether a part was renewed in it', () => {
    const open = follow(150_000, gap())
    expect(open.of('valve').beginning.how).toBe('unknown')
    const ages = [...open.of('valve').central.age].sort((a, b) => a - b)
    expect(ages[0]).toBeLessThan(90_000)
    expect(ages.at(-1)).toBeCloseTo(150_000, 6)
    expect(open.developing('valve')).toBeLessThan(follow(150_000, []).developing('valve'))
  })

  it('does not touch a life that begins after it', () => {
    const renewed: History = [...gap(), [151_200, repaired('valve')]]
    expect(follow(171_000, renewed).developing('valve')).toBeCloseTo(exact(0.05, 0, 19_800), 6)
  })

  it('keeps a failed part failed', () => {
    const failed: History = [[59_940, opened('valve', 'failed')], ...gap()]
    expect(follow(160_000, failed).of('valve').failed).toBe(true)
  })

  it('with an end but no beginning reaches back to the last event', () => {
    const alone = follow(150_000, [
      [60_000, looked('scan')],
      [150_000, changed('gap-to')],
    ])
    expect(alone.of('valve').beginning.how).toBe('unknown')
    expect(alone.of('valve').central.age.length).toBeGreaterThan(1)
  })
})

describe('a vehicle of unknown history', () => {
  it('has parts of several possible ages, none older than the vehicle', () => {
    const one = follow(150_000, [], UNKNOWN)
    const { age } = one.of('valve').central
    expect(age.length).toBeGreaterThan(3)
    expect(Math.max(...age)).toBeCloseTo(150_000, 3)
    expect(one.developing('valve')).toBeLessThan(exact(0, 0, 150_000))
  })

  it('has had its intervals kept by earlier owners', () => {
    const { age, sound, developing } = follow(150_000, [], UNKNOWN).of('belt').central
    age.forEach((a, i) => {
      if (sound[i]! + developing[i]! > 1e-6) expect(a).toBeLessThanOrEqual(60_000)
    })
  })

  it('knows the age of what was renewed on record, before the watch or in it', () => {
    const before = follow(160_000, [[140_000, repaired('valve')]], { ...UNKNOWN, readFromKm: 132_000 })
    expect(before.developing('valve')).toBeCloseTo(exact(0.05, 0, 20_000), 4)
    expect(before.of('seep').beginning.how).toBe('unknown')
    const since = follow(180_000, [[160_020, repaired('valve')]], UNKNOWN)
    expect(since.developing('valve')).toBeCloseTo(exact(0.05, 0, 19_980), 6)
  })

  it('has renewed parts only as likely as survival and evidence say', () => {
    const heavier = ({ of }: ReturnType<typeof follow>) => {
      const { age, sound, developing } = of('valve').central
      const oldest = age.indexOf(Math.max(...age))
      return sound[oldest]! + developing[oldest]!
    }
    const silent = follow(150_000, [[150_000, looked('scan')]], UNKNOWN)
    const seen = follow(150_000, [[150_000, looked('scan', at('flow'))]], UNKNOWN)
    expect(heavier(seen)).toBeGreaterThan(1.5 * heavier(silent))
  })
})

describe('a watch that begins later, of a vehicle whose history is known', () => {
  const known: Said = { vehicle: { history: 'full', watchedFromKm: 120_000 } }

  it('gives every node its first weight again, and keeps what looks before it said', () => {
    const one = follow(120_000, [], { ...known, central: false })
    const { tables, node, sound, developing } = one.of('valve').currentNodes()
    const mass = new Float64Array(tables.count)
    node.forEach((k, i) => {
      mass[k] = mass[k]! + sound[i]! + developing[i]!
    })
    mass.forEach((m, k) => {
      expect(m).toBeCloseTo(tables.weight[k]!, 6)
    })
    const seen = follow(120_000, [[119_000, looked('scan', at('flow'))]], known)
    expect(seen.developing('valve')).toBeGreaterThan(2 * follow(120_000, [], known).developing('valve'))
  })

  it('lets the nodes be weighed by survival from then on', () => {
    const one = follow(200_000, [], { ...known, central: false })
    const { tables, node, sound, developing } = one.of('valve').currentNodes()
    let meanBefore = 0
    let meanAfter = 0
    tables.weight.forEach((w, k) => {
      meanBefore += w * tables.logScale[k]!
    })
    node.forEach((k, i) => {
      meanAfter += (sound[i]! + developing[i]!) * tables.logScale[k]!
    })
    expect(meanAfter).toBeGreaterThan(meanBefore + 0.05)
  })
})
