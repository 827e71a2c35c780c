import { describe, expect, it } from 'vitest'
import { fitLives } from '@/lib/model/fit-lives'
import { knownWay, type LivedLife } from '@/lib/model/lived-life'
import type { LearnedLife } from '@/lib/scoring/family-fit'
import { learnedReport } from '@/lib/scoring/learned-report'
import { engine, point } from './one-vehicle'

const [family] = engine([
  point('valve', 80_000, 140_000, 9_000, {
    revisions: [{ key: 'mk2', lifeFactor: 1, confidence: 'hunch' }],
  }),
]).families
const [valve] = family!.weakPoints

const life = (age: number, kind: 'failed' | 'open', factors: number[] = []): LivedLife => ({
  startAge: 0,
  developing: 0,
  entry: null,
  looks: [],
  ending: { kind, age },
  ways: knownWay(factors),
})

function learnedFrom(lives: LivedLife[]): LearnedLife {
  const { endings, ...fit } = fitLives(lives, {
    central: { shape: 3, scale: 160_000, pfMean: 13_000 },
    spread: { logScale: 0.3, logShape: 0.25, logPfMean: 0.5 },
    factors: [{ log: 0, sd: 0.6 }],
  })
  const { failed, open } = endings
  return { ...fit, lives: { failed, developing: 0, sound: 0, running: open, leftOut: 0 } }
}

describe('what is told of what was learned', () => {
  it('is nothing where the statement stands', () => {
    expect(learnedReport(valve!, learnedFrom([]))).toBeNull()
    expect(learnedReport(valve!, { ...learnedFrom([life(90_000, 'failed')]), converged: false })).toBeNull()
  })

  it('moves with the lives, and is the surer the more there are', () => {
    const early = (count: number) => Array.from({ length: count }, (_, i) => life(60_000 + 900 * i, 'failed'))
    const few = learnedReport(valve!, learnedFrom(early(5)))!
    const many = learnedReport(valve!, learnedFrom(early(40)))!
    for (const { half } of [few, many]) {
      expect(half.low).toBeLessThan(half.value)
      expect(half.high).toBeGreaterThan(half.value)
    }
    expect(many.half.value).toBeLessThan(120_000)
    expect(many.half.high / many.half.low).toBeLessThan(few.half.high / few.half.low)
    expect(many.lives).toMatchObject({ failed: 40, running: 0 })
  })

  it('says of a version how likely it is to last longer', () => {
    const original = Array.from({ length: 30 }, (_, i) => life(80_000 + 1_000 * i, 'failed'))
    const longer = (ages: number[]) =>
      learnedReport(valve!, learnedFrom([...original, ...ages.map((age) => life(age, 'failed', [0]))]))!
        .factors[0]!
    expect(longer([])).toMatchObject({ of: 'revision', key: 'mk2', longer: expect.closeTo(0.5, 2) })
    const better = longer([150_000, 170_000, 180_000, 190_000])
    expect(better.longer).toBeGreaterThan(0.98)
    expect(better.factor.low).toBeGreaterThan(1)
    expect(longer([40_000, 45_000, 50_000]).longer).toBeLessThan(0.02)
  })
})
