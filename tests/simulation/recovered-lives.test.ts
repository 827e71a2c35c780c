import { describe, expect, it } from 'vitest'
import { fitLives, type LivesFit } from '@/lib/model/fit-lives'
import type { LivedLife } from '@/lib/model/lived-life'
import { liveAndWrite, WORKSHOP } from './lived-lives'
import { seeded } from './random'
import type { Parameters } from './two-stage'

type Truth = { name: string; truth: Parameters; noticeRate: number }

const COIL: Truth = { name: 'a coil', truth: { shape: 1.4, scale: 150_000, pfMean: 30_000 }, noticeRate: 0 }
const CHAIN: Truth = { name: 'a chain', truth: { shape: 4, scale: 120_000, pfMean: 5_000 }, noticeRate: 5e-5 }
const MORE: Truth[] = [
  { name: 'a pump', truth: { shape: 2.7, scale: 206_000, pfMean: 11_500 }, noticeRate: 0 },
  { ...CHAIN, name: 'a silent chain', noticeRate: 0 },
]
const TRUTHS = process.env.LONG_TESTS ? [COIL, CHAIN, ...MORE] : [COIL, CHAIN]
const SEED = 3
const LIVES = 8_000

/** A hunch that is wrong by half in η and by two in δ. */
const wrongHunch = ({ shape, scale, pfMean }: Parameters) => ({
  central: { shape: shape * 0.7, scale: scale * 1.5, pfMean: pfMean / 2 },
  spread: { logScale: 0.6, logShape: 0.4, logPfMean: 0.8 },
  factors: [],
})

const against = (truth: Parameters, { mode }: LivesFit) => ({
  scale: mode.scale / truth.scale,
  shape: mode.shape / truth.shape,
  pfMean: mode.pfMean / truth.pfMean,
})

describe.each(TRUTHS)('lives of $name', ({ truth, noticeRate }) => {
  const lives = liveAndWrite(truth, { ...WORKSHOP, noticeRate }, LIVES, seeded(SEED))

  it('give back η within 3 %, β within 5 %, δ within 15 %', () => {
    const fit = fitLives(lives, wrongHunch(truth))
    const found = against(truth, fit)
    expect(fit.converged).toBe(true)
    expect(Math.abs(found.scale - 1), `η × ${found.scale}`).toBeLessThan(0.03)
    expect(Math.abs(found.shape - 1), `β × ${found.shape}`).toBeLessThan(0.05)
    expect(Math.abs(found.pfMean - 1), `δ × ${found.pfMean}`).toBeLessThan(0.15)
    if (noticeRate > 0) expect(Math.abs(fit.noticeRate / noticeRate - 1)).toBeLessThan(0.15)
  })
})

/** Likelihoods that are simpler, on the lives of the coil. */
describe('a likelihood that leaves something out is biased', () => {
  const { truth } = COIL
  const lives = liveAndWrite(truth, WORKSHOP, LIVES / 2, seeded(SEED))
  const unlooked = lives.map((life) => ({ ...life, looks: life.looks.filter((look) => look.odds === 0) }))
  const noticed = unlooked.map(asNoticed)
  const learned = (some: LivedLife[]) => against(truth, fitLives(some, wrongHunch(truth)))

  it('the state at the moment of opening, looks left out: η far too short, δ far too long', () => {
    const found = learned(unlooked)
    expect(found.scale).toBeLessThan(0.7)
    expect(found.pfMean).toBeGreaterThan(3)
  })

  it('a constant rate of noticing, every life starting sound: δ far too short', () => {
    expect(learned(noticed.map((life) => ({ ...life, developing: 0 }))).pfMean).toBeLessThan(0.5)
  })

  it('the same, renewed lives starting with their flaws: δ too short', () => {
    expect(learned(noticed).pfMean).toBeLessThan(0.8)
  })
})

/** As if no sign had ever been written down. */
function asNoticed(life: LivedLife): LivedLife {
  const { ending } = life
  return ending.kind === 'developing' ? { ...life, ending: { kind: 'noticed', age: ending.age } } : life
}
