import { describe, expect, it } from 'vitest'
import { knownWay, type LifeEnding, type LivedLife } from '@/lib/model/lived-life'
import { LEAST_FOLLOWED, observedLife } from '@/lib/scoring/observed-life'

const life = (ending: LifeEnding, more: Partial<LivedLife> = {}): LivedLife => ({
  startAge: 0,
  developing: 0,
  entry: null,
  looks: [],
  ending,
  ways: knownWay(),
  ...more,
})
const times = (count: number, make: (i: number) => LivedLife) =>
  Array.from({ length: count }, (_, i) => make(i))
const running = (age: number, more?: Partial<LivedLife>) => life({ kind: 'open', age }, more)
const failed = (age: number, more?: Partial<LivedLife>) => life({ kind: 'failed', age }, more)

const NONE = { unknownStart: 0, beforeWatch: 0 }
type How = Parameters<typeof observedLife>[2]
const PLAIN: How = { warns: true, factors: [] }
const observe = (lives: LivedLife[], how = PLAIN) => observedLife(lives, NONE, how)

describe('lives by how they ended', () => {
  it('are each counted once', () => {
    const lives = [
      failed(5),
      life({ kind: 'failed-since', age: 6, since: 4 }),
      life({ kind: 'developing', age: 5 }),
      life({ kind: 'noticed', age: 5 }),
      life({ kind: 'sound', age: 5 }),
      life({ kind: 'open', age: 5, renewed: true }),
      running(9),
      running(9),
    ]
    const { ends } = observedLife(lives, { unknownStart: 3, beforeWatch: 2 }, PLAIN)
    expect(ends).toEqual({
      failed: 2,
      developing: 2,
      sound: 1,
      renewed: 1,
      running: 2,
      unknownStart: 3,
      beforeWatch: 2,
    })
  })
})

describe('the share that lasts', () => {
  it('falls where one failed or was found going, and not where one was found good or renewed unseen', () => {
    const lives = [
      failed(10),
      life({ kind: 'developing', age: 20 }),
      life({ kind: 'sound', age: 30 }),
      life({ kind: 'open', age: 40, renewed: true }),
      ...times(16, () => running(100)),
    ]
    expect(observe(lives).steps).toEqual({
      from: 0,
      until: 100,
      lives: 20,
      gone: 2,
      shares: [
        [10, 0.95, expect.closeTo(0.0487, 4)],
        [20, 0.9, expect.closeTo(0.0671, 4)],
      ],
    })
  })

  it('takes the day on which it was found going, though it ran on', () => {
    const found = failed(50, { looks: [{ age: 20, odds: Number.POSITIVE_INFINITY }] })
    expect(observe([found, ...times(19, () => running(100))]).steps?.shares).toEqual([
      [20, 0.95, expect.closeTo(0.0487, 4)],
    ])
  })

  it('knows no "going" of a part without warning', () => {
    const lives = [life({ kind: 'developing', age: 20 }), ...times(19, () => running(100))]
    expect(observe(lives, { warns: false, factors: [] }).steps?.shares).toEqual([])
  })

  it('puts a failure that was found late at the end of what nobody saw', () => {
    const lives = [life({ kind: 'failed-since', age: 30, since: 10 }), ...times(19, () => running(100))]
    expect(observe(lives).steps?.shares).toEqual([[30, 0.95, expect.closeTo(0.0487, 4)]])
  })

  it('begins where enough are followed, among those that got so far', () => {
    const late = times(LEAST_FOLLOWED, (i) => running(90, { entry: { age: 40 + i, sound: false } }))
    const steps = observe([failed(20), failed(60), ...late]).steps
    expect(steps?.from).toBe(48)
    expect(steps?.shares).toEqual([[60, expect.closeTo(10 / 11, 5), expect.closeTo(0.0867, 4)]])
  })

  it('ends where too few are followed', () => {
    const lives = [...times(20, (i) => running(50 + i)), failed(65), failed(200)]
    const steps = observe(lives).steps
    expect(steps?.until).toBe(62)
    expect(steps?.shares).toEqual([])
  })

  it('is not drawn from a handful', () => {
    expect(observe(times(LEAST_FOLLOWED - 1, (i) => failed(10 + i))).steps).toBeNull()
    expect(observe([]).steps).toBeNull()
  })

  it('keeps its line where there are more steps than can be told apart', () => {
    const steps = observe(times(3_000, (i) => failed(i + 1))).steps!
    expect(steps.shares.length).toBeLessThanOrEqual(201)
    for (const [age, lasts] of steps.shares) expect(lasts).toBeCloseTo(1 - age / 3_000, 5)
    const gaps = steps.shares.map(([age], i) => age - (steps.shares[i - 1]?.[0] ?? 0))
    expect(Math.max(...gaps)).toBeLessThan(20)
  })
})

describe('versions', () => {
  const factors = [
    { of: 'revision' as const, key: 'mk2' },
    { of: 'variant' as const, key: 'early' },
  ]
  const lives = [
    ...times(12, () => running(100)),
    ...times(5, () => failed(40, { ways: knownWay([0]) })),
    ...times(7, (i) => (i < 2 ? failed(60, { ways: knownWay([1]) }) : running(90, { ways: knownWay([1]) }))),
    running(100, {
      ways: [
        { share: 0.5, factors: [] },
        { share: 0.5, factors: [0] },
      ],
    }),
  ]
  const observed = observe(lives, { warns: true, factors })

  it('of the engine count with the original part, those of the part do not', () => {
    expect(observed.steps).toMatchObject({
      lives: 19,
      gone: 2,
      shares: [[60, expect.closeTo(17 / 19, 5), expect.closeTo(0.0704, 4)]],
    })
  })

  it('are counted each, where it is known which', () => {
    expect(observed.byFactor).toEqual([
      { of: 'revision', key: 'mk2', lives: 5, gone: 5 },
      { of: 'variant', key: 'early', lives: 7, gone: 2 },
    ])
  })
})
