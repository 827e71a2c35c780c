/** The few words: each must come from what is on record and believed, and none may be said that is not so. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { whatSpeaks } from '@/lib/decisions/reasons'
import { spokenDay } from '@/lib/units/dates'
import { runs } from '../runs'
import {
  at,
  dayAt,
  engine,
  followOne,
  type Happening,
  type History,
  looked,
  opened,
  point,
  repaired,
  sign,
} from '../scoring/one-vehicle'

const library = engine(
  [
    point('coil', 80_000, 140_000, 3_000),
    point('plug', 80_000, 140_000, 10_000),
    point('seep', 80_000, 140_000, 60_000),
    point('gasket', 110_000, 200_000, 6_000, {
      revisions: [
        { key: 'mk2', lifeFactor: 2 },
        { key: 'clip', lifeFactor: 0.1, temporary: true },
      ],
    }),
  ],
  [
    sign('misfire', 'code', { coil: 0.6, plug: 0.5 }, { codes: ['P0300'], label: 'Misfire' }),
    sign('oil', 'visual', { seep: 0.9 }, { label: 'Oil above the pump' }),
  ],
  { upstream: [{ from: 'seep', to: 'gasket', strength: 4 }] },
)
const AT = 60_000
const misfire = looked('scan', at('misfire'))

function speaks(weakPoint: string, asOfKm: number, history: History, due = false): string {
  const { followed, indexOf } = followOne(library, asOfKm, history)
  return whatSpeaks(followed, indexOf(weakPoint), due)
}

describe('a sign that was seen', () => {
  it('speaks for what causes it, with the day on which it was last seen', () => {
    const twice: History = [
      [AT - 3_000, misfire],
      [AT - 600, misfire],
    ]
    expect(speaks('coil', AT, twice)).toBe(`Misfire seen ${spokenDay(dayAt(AT - 600))}`)
    expect(speaks('seep', AT, twice)).toBe('')
  })

  it('came back only after what was renewed in between', () => {
    const cases: [History, string][] = [
      [
        [
          [AT - 3_000, misfire],
          [AT - 2_400, repaired('plug')],
          [AT, misfire],
        ],
        'Misfire came back after plug',
      ],
      [
        [
          [AT - 3_000, misfire],
          [AT, misfire],
        ],
        `Misfire seen ${spokenDay(dayAt(AT))}`,
      ],
      [
        [
          [AT - 2_400, repaired('plug')],
          [AT, misfire],
        ],
        `Misfire seen ${spokenDay(dayAt(AT))}`,
      ],
      [
        [
          [AT - 3_000, misfire],
          [AT - 2_400, opened('plug', 'sound')],
          [AT, misfire],
        ],
        `Misfire seen ${spokenDay(dayAt(AT))}`,
      ],
      [
        [
          [AT - 3_000, misfire],
          [AT - 2_400, repaired('plug')],
        ],
        `Misfire seen ${spokenDay(dayAt(AT - 3_000))}`,
      ],
    ]
    for (const [history, expected] of cases) expect(speaks('coil', AT, history)).toBe(expected)
  })

  it('does not speak for the part that was renewed because of it', () => {
    expect(
      speaks('plug', AT, [
        [AT - 60, misfire],
        [AT - 60, repaired('plug')],
      ]),
    ).toBe('')
    expect(
      speaks('plug', AT, [
        [AT - 600, misfire],
        [AT - 60, repaired('plug')],
      ]),
    ).toBe('')
  })

  it('does not speak for a part that was opened since and found sound', () => {
    expect(
      speaks('plug', AT, [
        [AT - 600, misfire],
        [AT - 60, opened('plug', 'sound')],
      ]),
    ).toBe('')
  })
})

describe('what is upstream', () => {
  const leaking: History = [
    [20_040, looked('visual', at('oil'))],
    [30_000, opened('seep', 'developing')],
  ]

  it('speaks for what it has aged, by its name', () => {
    expect(speaks('gasket', AT, leaking)).toContain('aged by seep above it')
    expect(speaks('gasket', AT, [])).toBe('')
  })

  it('does not speak for a part that was renewed after the defect was dealt with', () => {
    const both: History = [...leaking, [58_020, repaired('seep')], [58_020, repaired('gasket')]]
    expect(speaks('gasket', AT, both)).not.toContain('aged by')
  })
})

describe('age', () => {
  it('speaks where the stated age is passed, in the distance of this life', () => {
    expect(speaks('coil', 90_000, [])).toBe('90,000 km run, half begin to go by 140,000 km')
    expect(speaks('coil', 90_000, [[60_000, repaired('coil')]])).toBe('')
  })

  it('is held against the ages of the revision that is fitted', () => {
    const mk2: History = [[600, repaired('gasket', { revision: 'mk2' })]]
    expect(speaks('gasket', 150_000, mk2)).not.toContain('half begin to go')
    expect(speaks('gasket', 240_600, mk2)).toContain('240,000 km run, half begin to go by 400,000 km')
    const clip: History = [[20_040, repaired('gasket', { action: 'temporary' })]]
    expect(speaks('gasket', 35_040, clip)).toContain('15,000 km run, half begin to go by 20,000 km')
  })

  it('is said to be unknown where it is', () => {
    const vehicle = { history: 'none' as const, watchedFromKm: 60_000 }
    const { followed, indexOf } = followOne(library, 90_000, [], { vehicle, readFromKm: 60_000 })
    expect(whatSpeaks(followed, indexOf('coil'), false)).toBe('its age is not known')
  })
})

describe('what is certain', () => {
  it('comes first: recorded as failed', () => {
    expect(
      speaks('coil', AT, [
        [AT - 600, misfire],
        [AT - 60, opened('coil', 'failed')],
      ]),
    ).toMatch(/^recorded as failed/)
  })
})

it('a sign is never said to have come back unless it was seen, a cause of it renewed, and it was seen again', () => {
  const event: fc.Arbitrary<Happening> = fc.oneof(
    fc.constant(misfire),
    fc.constant(looked('scan')),
    fc
      .record({
        weakPoint: fc.constantFrom('coil', 'plug'),
        action: fc.constantFrom('renew', 'partial', 'temporary', 'inspect'),
        found: fc.constantFrom(null, 'sound', 'developing'),
      })
      .map(({ weakPoint, ...more }) => repaired(weakPoint, more)),
  )
  const events = fc
    .array(fc.tuple(fc.integer({ min: 700, max: 1_000 }), event), { maxLength: 8 })
    .map((list) => list.map(([day, h]) => [day * 60, h] as const).sort((a, b) => a[0] - b[0]))
  fc.assert(
    fc.property(events, (history) => {
      const { followed, indexOf } = followOne(library, AT, history, { central: true })
      for (const weakPoint of ['coil', 'plug']) {
        const said = whatSpeaks(followed, indexOf(weakPoint), false)
        const seen = history.flatMap(([km, h]) => ('check' in h && h.check.seen?.length ? [km] : []))
        const first = Math.min(...seen)
        const last = Math.max(...seen)
        if (said.includes('Misfire')) expect(seen.length).toBeGreaterThan(0)
        for (const [, name] of said.matchAll(/came back after (?:a quick fix of the )?(\w+)/g)) {
          const between = history.some(
            ([km, h]) =>
              'repair' in h &&
              h.repair.action !== 'inspect' &&
              h.repair.weakPoint === name &&
              km >= first &&
              km < last,
          )
          expect(between, said).toBe(true)
        }
      }
    }),
    { numRuns: runs(150), seed: 7 },
  )
})
