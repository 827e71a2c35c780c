/** Fitting against its limits: a hundred thousand lives with ten looks, and a plain Weibull against R's survreg. */
import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { fitLives, type LifeStatement } from '@/lib/model/fit-lives'
import { knownWay, type LivedLife } from '@/lib/model/lived-life'
import { type Random, seeded } from '../simulation/random'
import { drawOnset } from '../simulation/two-stage'
import { atMost, type BenchEntry, cpuSeconds } from './bench-entry'

const LIVES = 100_000
const LOOKS = 10
const TRUTH = { shape: 2.7, scale: 206_000, pfMean: 11_500 }
const STATEMENT: LifeStatement = {
  central: { shape: 2, scale: 150_000, pfMean: 20_000 },
  spread: { logScale: 0.3, logShape: 0.25, logPfMean: 0.5 },
  factors: [{ log: 0, sd: 0.3 }],
}
const FLAT: LifeStatement = {
  central: { shape: 1.5, scale: 150_000, pfMean: 0 },
  spread: {
    logScale: Number.POSITIVE_INFINITY,
    logShape: Number.POSITIVE_INFINITY,
    logPfMean: Number.POSITIVE_INFINITY,
  },
  factors: [],
}

export function fittingBench(): BenchEntry[] {
  const lives = lookedAt(seeded(1))
  let converged = false
  const spent = cpuSeconds(() => {
    converged = fitLives(lives, STATEMENT).converged
  })
  if (!converged) throw new Error('the fit of the bench did not converge')
  return [atMost(`${LIVES} lives with ${LOOKS} looks each, fitted`, spent, 's', 10), ...againstSurvreg()]
}

/** Original parts and every fifth a revision; the looks are there to be run through, not to teach. */
function lookedAt(random: Random): LivedLife[] {
  const odds = (seen: boolean) => (seen ? 20.8 : 0.8)
  return Array.from({ length: LIVES }, (_, n) => {
    const onset = drawOnset(TRUTH, 0, random)
    const failure = onset + random.exponential(TRUTH.pfMean)
    const stop = 100_000 + random.uniform() * 200_000
    const end = Math.min(failure, stop)
    const looks = Array.from({ length: LOOKS }, (__, i) => ({
      age: (end * (i + 1)) / (LOOKS + 1),
      odds: odds(random.chance(0.01)),
    }))
    const ending: LivedLife['ending'] = { kind: failure < stop ? 'failed' : 'open', age: end }
    return { startAge: 0, developing: 0, entry: null, looks, ending, ways: knownWay(n % 5 === 0 ? [0] : []) }
  })
}

const SURVREG = `
suppressPackageStartupMessages(library(survival))
lives <- read.csv(commandArgs(trailingOnly = TRUE)[1])
spent <- system.time(fit <- survreg(Surv(age, failed) ~ 1, data = lives, dist = "weibull"))
cat(coef(fit), -log(fit$scale), sum(spent[1:2]), sep = "\\n")
`

/** The plain censored Weibull on the same lives; says so where R or its survival package is not installed. */
function againstSurvreg(): BenchEntry[] {
  const random = seeded(2)
  const lives = Array.from({ length: LIVES }, (): LivedLife => {
    const [failure, stop] = [drawOnset(TRUTH, 0, random), random.uniform() * 300_000]
    const ending: LivedLife['ending'] = {
      kind: failure < stop ? 'failed' : 'open',
      age: Math.min(failure, stop),
    }
    return { startAge: 0, developing: 0, entry: null, looks: [], ending, ways: knownWay() }
  })
  const rival = askSurvreg(lives)
  if (!rival) {
    console.error('Rscript with its survival package is not installed: no rival for the plain Weibull')
    return []
  }
  let mode = FLAT.central
  const spent = cpuSeconds(() => {
    mode = fitLives(lives, FLAT).mode
  })
  const apart = Math.max(
    Math.abs(Math.log(mode.scale) - rival.logScale),
    Math.abs(Math.log(mode.shape) - rival.logShape),
  )
  return [
    atMost('plain Weibull: difference of ln η and ln β from survreg', apart, 'absolute', 1e-6),
    atMost('plain Weibull: time against survreg on the same lives', spent / rival.seconds, 'ratio', 1 / 20),
  ]
}

function askSurvreg(lives: LivedLife[]): { logScale: number; logShape: number; seconds: number } | null {
  const folder = mkdtempSync(path.join(tmpdir(), 'fitting-'))
  try {
    const [script, table] = [path.join(folder, 'survreg.R'), path.join(folder, 'lives.csv')]
    const rows = lives.map(({ ending }) => `${ending.age},${ending.kind === 'failed' ? 1 : 0}`)
    writeFileSync(script, SURVREG)
    writeFileSync(table, `age,failed\n${rows.join('\n')}\n`)
    const answer = execFileSync('Rscript', [script, table], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    })
    const [logScale, logShape, seconds] = answer.trim().split('\n').map(Number) as [number, number, number]
    return { logScale, logShape, seconds }
  } catch {
    return null
  } finally {
    rmSync(folder, { recursive: true })
  }
}
