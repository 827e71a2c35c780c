import { describe, expect, it } from 'vitest'
import { fitLives, type LifeStatement, type LivesFit } from '@/lib/model/fit-lives'
import { normalRule } from '@/lib/model/gauss-hermite'
import { knownWay, type LifeEnding, type LivedLife } from '@/lib/model/lived-life'
import { livesLikelihood } from '@/lib/model/lives-likelihood'
import { correlatedNodes, lifeAt, type ParameterNodes, statedNodes } from '@/lib/model/parameter-nodes'
import { logDeveloping, logSurvival, propagate, type TwoStage } from '@/lib/model/two-stage'
import { liveAndWrite, WORKSHOP } from '../simulation/lived-lives'
import { seeded } from '../simulation/random'

const PUMP: LifeStatement = {
  central: { shape: 2.5, scale: 150_000, pfMean: 12_000 },
  spread: { logScale: 0.6, logShape: 0.4, logPfMean: 0.8 },
  factors: [],
}
const SUDDEN: LifeStatement = {
  ...PUMP,
  central: { ...PUMP.central, pfMean: 0 },
  spread: { ...PUMP.spread, logPfMean: 0 },
}

const life = (ending: LifeEnding, more: Partial<LivedLife> = {}): LivedLife => ({
  startAge: 0,
  developing: 0,
  entry: null,
  looks: [],
  ways: knownWay(),
  ...more,
  ending,
})
const many = (count: number, of: (i: number) => LivedLife) => Array.from({ length: count }, (_, i) => of(i))

describe('without lives', () => {
  it.each([PUMP, SUDDEN])('the statement comes back, exactly', (statement) => {
    const fit = fitLives([], statement)
    expect(fit.nodes).toEqual(statedNodes(statement.central, statement.spread))
    expect(fit.mode).toEqual(statement.central)
    expect(fit.se).toEqual(statement.spread)
    expect(fit).toMatchObject({ converged: true, logLikelihood: 0, noticeRate: 0 })
  })
})

describe('lives that teach little or nonsense', () => {
  const CASES: Record<string, LivedLife[]> = {
    'one life': [life({ kind: 'failed', age: 90_000 })],
    'one life that only just began': [life({ kind: 'open', age: 0 })],
    'no failures': many(200, (i) => life({ kind: 'open', age: 20_000 + 300 * i })),
    'all failures': many(200, (i) => life({ kind: 'failed', age: 60_000 + 300 * i })),
    'identical ages': many(200, () => life({ kind: 'failed', age: 100_000 })),
    'failures at age 0': many(5, () => life({ kind: 'failed', age: 0 })),
    'ages far beyond the statement': many(50, (i) => life({ kind: 'failed', age: 3e6 + 1e4 * i })),
    'ages far below it': many(50, (i) => life({ kind: 'failed', age: 200 + i })),
    'found sound at a great age': many(20, () =>
      life({ kind: 'developing', age: 700_000 }, { looks: [{ age: 600_000, odds: 0 }] }),
    ),
    'found sound after found developing': many(20, (i) =>
      life({ kind: 'sound', age: 60_000 }, { looks: [{ age: 40_000 + i, odds: Number.POSITIVE_INFINITY }] }),
    ),
    'found developing where it was found sound': many(20, () =>
      life({ kind: 'developing', age: 50_000 }, { looks: [{ age: 50_000, odds: 0 }] }),
    ),
    'found sound after an inspection found it developing': many(20, () => {
      const looks = [
        { age: 30_000, odds: Number.POSITIVE_INFINITY },
        { age: 50_000, odds: 0 },
      ]
      return life({ kind: 'open', age: 80_000 }, { looks })
    }),
    'noticed, and nothing else': many(3, () => life({ kind: 'noticed', age: 50_000 })),
  }

  it.each(Object.entries(CASES))('%s: finite numbers, from the lives or from the statement', (_, lives) => {
    for (const statement of [PUMP, SUDDEN]) {
      const fit = fitLives(lives, statement)
      expectFinite(fit)
      if (!fit.converged) expect(fit.nodes).toEqual(statedNodes(statement.central, statement.spread))
    }
  })

  it.each([
    'found sound after found developing',
    'found developing where it was found sound',
    'found sound after an inspection found it developing',
    'failures at age 0',
  ])('%s: counted as contradictory', (name) => {
    expect(fitLives(CASES[name]!, PUMP).contradictory).toBe(CASES[name]!.length)
  })

  it('a contradictory ending counts as not failed', () => {
    const at = (kind: 'developing' | 'open') =>
      fitLives([life({ kind, age: 50_000 }, { looks: [{ age: 50_000, odds: 0 }] })], PUMP)
    expect(at('developing').mode).toEqual(at('open').mode)
  })

  it('a part without warning that is said to develop counts as not failed, and is counted', () => {
    const developing = fitLives([life({ kind: 'developing', age: 90_000 })], SUDDEN)
    expect(developing.withoutWarning).toBe(1)
    expect(developing.mode).toEqual(fitLives([life({ kind: 'open', age: 90_000 })], SUDDEN).mode)
  })

  it('where no peak is a life that can be, the statement stands, and the fit says so', () => {
    for (const name of ['identical ages', 'ages far beyond the statement']) {
      const fit = fitLives(CASES[name]!, PUMP)
      expect(fit.converged, name).toBe(false)
      expect(fit.mode).toEqual(PUMP.central)
    }
  })
})

function expectFinite(fit: LivesFit) {
  const { shape, scale, pfMean, weight } = fit.nodes
  const numbers = [
    ...Object.values(fit.mode),
    ...Object.values(fit.se),
    ...fit.covariance.flat(),
    fit.noticeRate,
  ]
  for (const number of [...numbers, ...shape, ...scale, ...pfMean, ...weight])
    expect(number).toSatisfy(Number.isFinite)
  expect(weight.reduce((sum, w) => sum + w, 0)).toBeCloseTo(1, 12)
}

describe('with lives', () => {
  const truth = { shape: 2.5, scale: 130_000, pfMean: 9_000 }

  it('learns the factor of a revision, and what is sure of it', () => {
    const lives = liveAndWrite(truth, { ...WORKSHOP, factor: 1.6 }, 4_000, seeded(5))
    const fit = fitLives(lives, { ...PUMP, factors: [{ log: 0, sd: 0.5 }] })
    const { log, seLog } = fit.factors[0]!
    expect(Math.abs(log - Math.log(1.6))).toBeLessThan(3 * seLog)
    expect(seLog).toBeLessThan(0.1)
    expect(Math.abs(Math.log(fit.mode.scale / truth.scale))).toBeLessThan(0.05)
    // What is longer of the original is shorter of the revision.
    expect(fit.covariance[0]![fit.covariance.length - 1]).toBeLessThan(0)
  })

  it('learns it as well where some do not say which they are', () => {
    const lives = liveAndWrite(truth, { ...WORKSHOP, factor: 2 }, 4_000, seeded(6)).map((one, i) => {
      const either = [
        { share: 0.75, factors: [] },
        { share: 0.25, factors: [0] },
      ]
      return i % 8 < 2 ? { ...one, ways: either } : one
    })
    const { log, seLog } = fitLives(lives, { ...PUMP, factors: [{ log: 0, sd: 0.5 }] }).factors[0]!
    expect(Math.abs(log - Math.log(2))).toBeLessThan(3 * seLog)
  })

  it('finds the same peak whichever of the lives come first', () => {
    const lives = liveAndWrite(truth, WORKSHOP, 9_000, seeded(7))
    const [one, other] = [fitLives(lives, PUMP), fitLives(lives.toReversed(), PUMP)]
    expect(Math.abs(one.mode.scale / other.mode.scale - 1)).toBeLessThan(1e-6)
    expect(Math.abs(one.mode.pfMean / other.mode.pfMean - 1)).toBeLessThan(1e-6)
  })

  it('finds the peak of more lives from that of some, and from no peak at all as well', () => {
    const lives = liveAndWrite(truth, WORKSHOP, 600, seeded(9))
    const anew = fitLives(lives, PUMP)
    const wild = { mode: { shape: 11, scale: 900, pfMean: 4e5 }, noticeRate: 0, factors: [] }
    for (const near of [fitLives(lives.slice(0, 400), PUMP), wild]) {
      const from = fitLives(lives, PUMP, { near })
      expect(from.converged).toBe(true)
      for (const of of ['scale', 'shape', 'pfMean'] as const)
        expect(Math.abs(from.mode[of] / anew.mode[of] - 1)).toBeLessThan(1e-6)
      expect(from.logLikelihood).toBeCloseTo(anew.logLikelihood, 6)
    }
  })

  it('scores within 2 % of fifteen nodes for each parameter', () => {
    const lives = liveAndWrite(truth, WORKSHOP, 400, seeded(8))
    const fit = fitLives(lives, PUMP)
    const fine = fineNodes(fit, lives)
    for (const age of [40_000, 90_000, 150_000]) {
      const [few, all] = [chance(fit.nodes, age), chance(fine, age)]
      expect(Math.abs(few / all - 1), `at ${age}: ${few} of ${all}`).toBeLessThan(0.02)
    }
  })
})

/** P(failed within 8,000 | not failed at an age): the masses of the nodes weigh it. */
function chance(nodes: ParameterNodes, age: number): number {
  let [alive, failing] = [0, 0]
  nodes.weight.forEach((weight, k) => {
    const p = lifeAt(nodes, k)
    const mass = weight * Math.exp(logSurvival(age, p))
    alive += mass
    failing +=
      mass * propagate(Math.exp(logDeveloping(age, p) - logSurvival(age, p)), age, age + 8_000, p).fails
  })
  return failing / alive
}

/** 15×15×15 about the peak, weighed by likelihood times prior as they are written down. */
function fineNodes(fit: LivesFit, lives: LivedLife[]): ParameterNodes {
  const { nodes, weights } = normalRule(15)
  const { at } = livesLikelihood(lives, { warns: true, factors: 0 })
  const sd = [fit.se.logScale, fit.se.logShape, fit.se.logPfMean]
  const grid = nodes.flatMap((a, i) =>
    nodes.flatMap((b, j) =>
      nodes.map((c, k) => ({ z: [a, b, c], weight: weights[i]! * weights[j]! * weights[k]! })),
    ),
  )
  const peak = [fit.mode.scale, fit.mode.shape, fit.mode.pfMean].map(Math.log)
  const points = grid.map(({ z }) => peak.map((log, i) => log + sd[i]! * z[i]!))
  const top = logPosterior(peak)
  const raw = grid.map(
    ({ z, weight }, k) =>
      weight * Math.exp(logPosterior(points[k]!) - top + z.reduce((sum, x) => sum + x * x, 0) / 2),
  )
  const total = raw.reduce((sum, w) => sum + w, 0)
  return {
    scale: Float64Array.from(points, (p) => Math.exp(p[0]!)),
    shape: Float64Array.from(points, (p) => Math.exp(p[1]!)),
    pfMean: Float64Array.from(points, (p) => Math.exp(p[2]!)),
    weight: Float64Array.from(raw, (w) => w / total),
  }

  function logPosterior(point: number[]): number {
    const stated = [PUMP.central.scale, PUMP.central.shape, PUMP.central.pfMean].map(Math.log)
    const spread = [PUMP.spread.logScale, PUMP.spread.logShape, PUMP.spread.logPfMean]
    return at(point).value - point.reduce((sum, x, i) => sum + ((x - stated[i]!) / spread[i]!) ** 2 / 2, 0)
  }
}

describe('nodes of a normal that is not independent', () => {
  it('have its mean and covariance', () => {
    const central: TwoStage = { shape: 2, scale: 1e5, pfMean: 8e3 }
    const covariance = [
      [0.09, -0.02, 0.03],
      [-0.02, 0.04, -0.01],
      [0.03, -0.01, 0.2],
    ]
    const nodes = correlatedNodes(central, covariance)
    const logs = (k: number) => {
      const p = lifeAt(nodes, k)
      return [p.scale / central.scale, p.shape / central.shape, p.pfMean / central.pfMean].map(Math.log)
    }
    covariance.forEach((row, i) => {
      expect(nodes.weight.reduce((sum, w, k) => sum + w * logs(k)[i]!, 0)).toBeCloseTo(0, 12)
      row.forEach((value, j) => {
        const found = nodes.weight.reduce((sum, w, k) => sum + w * logs(k)[i]! * logs(k)[j]!, 0)
        expect(found).toBeCloseTo(value, 12)
      })
    })
  })
})
