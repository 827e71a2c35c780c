/** The sentence says what the numbers say, and names where they were off. */
import { describe, expect, it } from 'vitest'
import type { Tally } from '@/lib/replay/judge'
import { poissonInterval } from '@/lib/replay/poisson-interval'
import { judgeAll, type Replay, type WeakPointTally } from '@/lib/replay/replay'
import { verdictOf, verdictSentence, windowsOverlapping } from '@/lib/replay/verdict'
import { simulatedLibrary } from '../simulation/libraries'
import { recordsOf } from '../simulation/record-rows'

const empty = judgeAll(
  {
    records: recordsOf({}),
    library: simulatedLibrary('knot', 'experience'),
    plan: { from: 19_000, to: 19_000, every: 90, days: 90 },
    learning: false,
  },
  [[]],
)

const tallyOf = (expected: number, observed: number, windows = 1): Tally => ({
  components: 1000,
  expected: windows * expected,
  observed: windows * observed,
  imputed: 0,
  unnoted: 0,
  interval: poissonInterval(Array(observed).fill(windows)),
  ratio: expected / observed,
})

/** A replay that came out so, looked back from so many days, a month apart. */
const replayed = (all: Tally, weakPoints: WeakPointTally[] = [], cutOffs = 1): Replay => ({
  ...empty,
  every: 30,
  cutOffs: Array(cutOffs).fill(empty.cutOffs[0]),
  overall: {
    ...empty.overall,
    judgements: { ...empty.overall.judgements, product: { ...empty.overall.judgements.product, ...all } },
    weakPoints,
  },
})

const said = (replay: Replay) => verdictSentence(verdictOf(replay), (_, weakPoint) => weakPoint)
const of = (weakPoint: string, expected: number, observed: number): WeakPointTally => ({
  family: 'knot-16',
  weakPoint,
  ...tallyOf(expected, observed),
})

describe('the verdict', () => {
  it.each([
    [
      tallyOf(48, 52),
      'The scores can be trusted: as much failed as they said (48 failures expected, 52 found).',
    ],
    [
      tallyOf(90, 52),
      'The scores were too high: less failed than they said (90 failures expected, 52 found).',
    ],
    [
      tallyOf(20, 52),
      'The scores were too low: more failed than they said (20 failures expected, 52 found).',
    ],
    [
      tallyOf(2.31, 4),
      'Too little has failed to say whether the scores can be trusted (2.3 failures expected, 4 found).',
    ],
  ])('%#', (all, sentence) => {
    expect(said(replayed(all))).toBe(sentence)
  })

  it('has nothing to say of an empty replay', () => {
    expect(verdictOf(empty)).toMatchObject({ standing: 'too-few', found: 0, doubtful: [] })
  })

  it('names where the scores were off, the farthest first, and not where little failed or they were right', () => {
    const points = [of('injector', 20, 22), of('coil', 5, 20), of('deposits', 60, 30), of('seal', 0.1, 3)]
    expect(verdictOf(replayed(tallyOf(85, 75), points)).doubtful.map((one) => one.weakPoint)).toEqual([
      'coil',
      'deposits',
    ])
    expect(said(replayed(tallyOf(85, 75), points))).toMatch(
      /; do not rely on them for coil \(5 expected, 20 found\) and deposits \(60 expected, 30 found\)\.$/,
    )
  })

  it('says that it cannot be told where too many states were not noted, and names no such weak point', () => {
    const untold = { ...tallyOf(90, 52), unnoted: 40 }
    expect(said(replayed(untold))).toBe(
      'Whether the scores can be trusted cannot be told (90 failures expected, 52 found): of 40 renewed parts nobody noted what they showed, and failures among them are not counted.',
    )
    // Too few of them to make up for what is missing.
    expect(verdictOf(replayed({ ...untold, unnoted: 20 })).standing).toBe('fewer')
    // They could only add to what is too much already.
    expect(verdictOf(replayed({ ...tallyOf(20, 52), unnoted: 40 })).standing).toBe('more')
    const points = [
      { ...of('coil', 40, 20), unnoted: 20 },
      { ...of('deposits', 60, 30), unnoted: 2 },
    ]
    expect(verdictOf(replayed(untold, points)).doubtful.map((one) => one.weakPoint)).toEqual(['deposits'])
  })

  it.each([
    [1, 30, 90],
    [3, 30, 90],
    [24, 30, 90],
    [7, 30, 365],
    [5, 90, 90],
    [4, 120, 90],
  ])('tells of days, though windows overlap: %i cut-offs, every %i days, %i ahead', (count, every, days) => {
    // Each day of each window, counted.
    const windows = Array.from({ length: count }, (_, k) => k * every)
    const held = windows.flatMap((from) => Array.from({ length: days }, (_, day) => from + day))
    const overlap = held.length / new Set(held).size
    expect(windowsOverlapping({ cutOffs: windows, every, days })).toBeCloseTo(overlap, 12)
  })

  it('divides all sums by how many windows overlap', () => {
    // Three windows of 90 days, a month apart, are 270 days over 150.
    const thrice = verdictOf(replayed(tallyOf(30, 28, 3), [], 3))
    expect(thrice).toMatchObject({ standing: 'as-said', expected: 50 })
    expect(thrice.found).toBeCloseTo((28 * 3) / 1.8, 9)
    expect(verdictOf(replayed(tallyOf(90, 84))).found).toBe(84)
  })

  it('has nothing to divide where there was no day to look back from', () => {
    expect(windowsOverlapping({ cutOffs: [], every: 30, days: 90 })).toBe(1)
  })
})
