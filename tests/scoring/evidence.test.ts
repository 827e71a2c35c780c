/** What looks do to beliefs, through a whole vehicle. */
import { describe, expect, it } from 'vitest'
import { at, engine, followOne, type History, looked, opened, point, repaired, sign } from './one-vehicle'

const library = engine(
  [
    point('coil', 80_000, 140_000, 3_000, { positions: 2 }),
    point('plug', 60_000, 100_000, 10_000, { positions: 2 }),
    point('deposits', 60_000, 110_000, 20_000),
    point('valve', 80_000, 140_000, 9_000),
    point('chain', 120_000, 200_000, 2_500),
  ],
  [
    sign(
      'misfire',
      'code',
      { coil: 0.7, plug: 0.4, deposits: 0.2 },
      { codes: ['P030#'], positions: 2, lamp: true },
    ),
    sign('flow', 'code', { valve: 0.8 }, { codes: ['P0401'], lamp: true }),
    sign('dirty', 'visual', { deposits: 0.6 }),
    sign('rattle', 'road', { chain: 0.6 }, { stop: true }),
  ],
)
const follow = (asOfKm: number, history: History) => followOne(library, asOfKm, history, { central: true })
const AT = 120_000

describe('a sign', () => {
  const quiet = follow(AT, [])

  it('seen once raises the odds of its only cause by detect over leak, by the noisy-OR', () => {
    const p = quiet.developing('valve')
    const seen = follow(AT, [[AT, looked('scan', at('flow'))]]).developing('valve')
    const given = 1 - (1 - 0.005) * (1 - 0.8)
    expect(seen).toBeCloseTo((p * given) / (p * given + (1 - p) * 0.005), 6)
  })

  it('looked for and not seen lowers them by one less detect, and in part after codes were cleared', () => {
    const p = quiet.developing('valve')
    const silent = (kmSinceCleared: number | null) =>
      follow(AT, [[AT, { check: { kind: 'scan', kmSinceCleared } }]]).developing('valve')
    const expected = (detect: number) => (p * (1 - detect)) / (1 - p * detect)
    expect(silent(null)).toBeCloseTo(expected(0.8), 6)
    expect(silent(40)).toBeCloseTo(expected(0.2), 6)
    expect(silent(0)).toBeCloseTo(p, 9)
  })

  it('seen at one position blames the parts at that position and the unpositioned ones', () => {
    const seen = follow(AT, [[AT, { code: { code: 'P0302' } }]])
    for (const key of ['coil', 'plug']) {
      expect(seen.developing(key, 2)).toBeGreaterThan(1.5 * quiet.developing(key, 2))
      expect(seen.developing(key, 1)).toBeCloseTo(quiet.developing(key, 1), 6)
    }
    expect(seen.developing('deposits')).toBeGreaterThan(quiet.developing('deposits'))
  })

  it('is explained away when one cause is found to be going, and the rest blamed when it is sound', () => {
    const seen: History = [[AT, looked('scan', at('misfire', 1))]]
    const suspected = follow(AT, seen).developing('coil')
    const found = (state: 'developing' | 'sound') =>
      follow(AT, [...seen, [AT, opened('plug', state)]]).developing('coil')
    expect(found('developing')).toBeLessThan(0.6 * suspected)
    expect(found('sound')).toBeGreaterThan(1.2 * suspected)
  })
})

describe('the lamp that nobody has read', () => {
  const lamp: History = [[AT, looked('lamp', at('lamp-on'))]]

  it('raises every part whose signs light it, and no other', () => {
    const [quiet, lit] = [follow(AT, []), follow(AT, lamp)]
    for (const key of ['coil', 'plug', 'valve']) {
      expect(lit.developing(key)).toBeGreaterThan(1.1 * quiet.developing(key))
    }
    expect(lit.developing('chain')).toBeCloseTo(quiet.developing('chain'), 9)
  })

  it('is forgotten for the reading that follows', () => {
    const read: History = [[AT + 120, { code: { code: 'P0401' } }]]
    const [both, alone] = [follow(AT + 120, [...lamp, ...read]), follow(AT + 120, read)]
    for (const key of ['coil', 'plug', 'valve']) {
      expect(both.developing(key)).toBeCloseTo(alone.developing(key), 9)
    }
  })

  it('still counts where a part was renewed before the reading', () => {
    const renewed: History = [
      [AT, repaired('valve')],
      [AT + 120, { code: { code: 'P0302' } }],
    ]
    const [both, alone] = [follow(AT + 120, [...lamp, ...renewed]), follow(AT + 120, renewed)]
    expect(both.developing('coil', 1)).toBeGreaterThan(1.02 * alone.developing('coil', 1))
  })
})

describe('looks at different signs', () => {
  it('leave the same belief in whatever order the day has them', () => {
    const looks = [
      looked('visual', at('dirty')),
      looked('scan', at('misfire', 1)),
      looked('road'),
      { code: { code: 'P0401' } },
    ] as const
    const believed = (order: readonly number[]) => {
      const one = follow(
        AT,
        order.map((i) => [AT, looks[i]!] as const),
      )
      return one.belief.beliefs.map((_, c) => one.belief.developing(c))
    }
    const first = believed([0, 1, 2, 3])
    for (const order of [
      [3, 2, 1, 0],
      [1, 3, 0, 2],
      [2, 0, 3, 1],
    ]) {
      believed(order).forEach((p, c) => {
        expect(p).toBeCloseTo(first[c]!, 8)
      })
    }
  })
})

describe('a sign that must not be driven with', () => {
  const seen: History = [[AT, looked('road', at('rattle'))]]

  it('stays open until every part that causes it is renewed or found sound', () => {
    expect(follow(AT, seen).followed.stops).toHaveLength(1)
    const cases = [
      [opened('chain', null), 1],
      [opened('chain', 'developing'), 1],
      [opened('chain', 'sound'), 0],
      [repaired('chain'), 0],
      [repaired('valve'), 1],
    ] as const
    for (const [what, open] of cases) {
      expect(follow(AT + 60, [...seen, [AT + 60, what]]).followed.stops).toHaveLength(open)
    }
  })

  it('opens again when it is seen again', () => {
    const again: History = [...seen, [AT, opened('chain', 'sound')], [AT + 60, looked('road', at('rattle'))]]
    expect(follow(AT + 60, again).followed.stops).toHaveLength(1)
  })
})

describe('what is known of when somebody looked', () => {
  it('is the last full scan, and the last look that was more than a report or the lamp', () => {
    const { followed } = follow(AT, [
      [AT - 3_000, looked('scan')],
      [AT - 1_200, { check: { kind: 'scan', kmSinceCleared: 10 } }],
      [AT - 600, looked('road')],
      [AT - 300, looked('report', at('rattle'))],
      [AT, looked('lamp')],
    ])
    const day = (km: number) => followed.lastFullScanOn! + (km - (AT - 3_000)) / 60
    expect(followed.lastLookedAtOn).toBe(day(AT - 600))
    expect(followed.lastFullScanOn).toBe(18_000 + (AT - 3_000) / 60)
  })
})
