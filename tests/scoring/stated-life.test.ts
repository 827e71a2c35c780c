import { describe, expect, test } from 'vitest'
import { fromStatement, GRADE_SPREAD } from '@/lib/model/elicitation'
import { fitLives } from '@/lib/model/fit-lives'
import { knownWay } from '@/lib/model/lived-life'
import { lifeAt, statedNodes } from '@/lib/model/parameter-nodes'
import { logSoundSurvival, logSurvival } from '@/lib/model/two-stage'
import type { Confidence, Library, WeakPoint } from '@/lib/records/library'
import { learnedNewPartLife, statedLife } from '@/lib/scoring/stated-life'
import { exampleLibrary } from '../records/example-library'

const [family] = exampleLibrary().families as [Library['families'][number]]
const plain = family.weakPoints[2]!
const stated = (change: Partial<WeakPoint>) =>
  statedLife({ ...family, variants: [] }, { ...plain, ...change })

describe('the stated life of a new part', () => {
  test('is the mean of the two-stage lives of the prior, integrated without tables', () => {
    const { curve } = stated({})
    const central = fromStatement({ ...plain.onset, warning: plain.warning })
    const nodes = statedNodes(central, GRADE_SPREAD[plain.confidence])
    const mean = (of: (k: number) => number) =>
      nodes.weight.reduce((sum, weight, k) => sum + weight * of(k), 0)
    for (const { age, pStarted, pFail } of curve.filter((_, i) => i > 0 && i % 5 === 0)) {
      expect(pStarted).toBeCloseTo(
        mean((k) => 1 - Math.exp(logSoundSurvival(age, lifeAt(nodes, k)))),
        9,
      )
      expect(pFail).toBeCloseTo(
        mean((k) => 1 - Math.exp(logSurvival(age, lifeAt(nodes, k)))),
        6,
      )
    }
  })

  test('begins at nothing, never falls, and has started before it has failed', () => {
    const { curve, atHalf } = stated({})
    expect(curve[0]).toEqual({ age: 0, pStarted: 0, pFail: 0, pLow: 0, pHigh: 0 })
    expect(atHalf.age).toBe(plain.onset.p50)
    expect(curve.at(-1)?.age).toBe(2 * plain.onset.p50)
    for (const [i, { pStarted, pFail, pLow, pHigh }] of curve.entries()) {
      const before = curve[Math.max(0, i - 1)]!
      expect(pFail).toBeGreaterThanOrEqual(before.pFail)
      expect(pStarted).toBeGreaterThanOrEqual(pFail)
      expect(pLow).toBeLessThanOrEqual(pFail)
      expect(pHigh).toBeGreaterThanOrEqual(pFail)
    }
  })

  test('the surer the author, the narrower the band, and the nearer half have begun where half were stated', () => {
    const grades: Confidence[] = ['hunch', 'experience', 'documented']
    const lives = grades.map((confidence) => stated({ confidence }).atHalf)
    const widths = lives.map(({ pLow, pHigh }) => pHigh - pLow)
    expect(widths).toEqual([...widths].sort((a, b) => b - a))
    for (const { pStarted } of lives) expect(Math.abs(pStarted - 0.5)).toBeLessThan(0.02)
  })

  test('a part without warning fails as soon as it starts to go', () => {
    for (const { pStarted, pFail } of stated({ warning: 0 }).curve) expect(pFail).toBeCloseTo(pStarted, 12)
  })

  test('where a version of the engine does not have the part, it counts for its share', () => {
    const variants = [
      { key: 'early', name: 'early', retired: false },
      { key: 'late', name: 'late', retired: false },
    ]
    const absent = { early: { lifeFactor: 1, confidence: 'experience' as const, absent: true } }
    const half = statedLife({ ...family, variants }, { ...plain, variants: absent }).atHalf
    expect(half.pFail).toBeCloseTo(stated({}).atHalf.pFail / 2, 9)
  })
})

describe('the life of a new part as learned', () => {
  const life = { age: 60_000, kind: 'failed' as const }
  const lives = Array.from({ length: 60 }, (_, i) => ({
    startAge: 0,
    developing: 0,
    entry: null,
    looks: [],
    ending: { ...life, age: 50_000 + 500 * i },
    ways: knownWay(),
  }))
  const unvaried = { ...family, variants: [] }
  const learn = (some: typeof lives) => {
    const { endings, ...fit } = fitLives(some, {
      central: fromStatement({ ...plain.onset, warning: plain.warning }),
      spread: GRADE_SPREAD[plain.confidence],
      factors: [],
    })
    const counts = { failed: endings.failed, developing: 0, sound: 0, running: 0, leftOut: 0 }
    return { asOf: 20_000, weakPoints: new Map([[plain.key, { ...fit, lives: counts }]]), signs: new Map() }
  }

  test('is the stated one where nothing was learned', () => {
    expect(learnedNewPartLife(unvaried, plain, learn([]))).toEqual(stated({}))
  })

  test('goes where the lives were, and reaches as far as what is stated', () => {
    const learned = learnedNewPartLife(unvaried, plain, learn(lives))
    expect(learned.curve.at(-1)?.age).toBe(2 * plain.onset.p50)
    const at = learned.curve.find(({ age }) => age >= 80_000)!
    expect(at.pFail).toBeGreaterThan(0.8)
    expect(at.pHigh - at.pLow).toBeLessThan(0.2)
  })
})
