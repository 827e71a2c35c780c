/**
 * The likelihood of lives run forward through their looks (delay-time model, Christer & Waller 1984), with exact
 * derivatives, as a function of the logarithms of what is to be learned.
 */
import { fillTable, makeTable } from './inner/gathered-onsets'
import { lifeRunner, type RunParameters } from './inner/life-runner'
import { type PackedLives, packLives } from './inner/packed-lives'
import type { EndingKind, LivedLife } from './lived-life'
import type { Smooth } from './maximise'
import { logSum } from './two-stage'

/** Where each logarithm stands in the vector of what is learned; null where it is not. */
export type Layout = {
  size: number
  logScale: 0
  logShape: 1
  /** Null where the part fails without warning (δ = 0). */
  logPfMean: number | null
  /** ν, the rate at which developing defects are noticed without a record; null where none was. */
  logNoticeRate: number | null
  /** The first of the factors on η. */
  factors: number
}

export type LivesLikelihood = {
  layout: Layout
  /** ln of the likelihood, with its gradient, at logarithms as the layout has them. */
  at: Smooth
  /** The same without its gradient. */
  valueAt: (point: ArrayLike<number>) => number
  endings: Record<EndingKind, number>
  /** Findings that the life before them gave no mass; their factors are left out. */
  contradictory: number
  /** Findings of a developing defect where the part gives no warning; they count as not failed. */
  withoutWarning: number
}

/** What is learned beside η and β. */
export type Learned = {
  /** False where δ = 0: then it is the censored and truncated Weibull likelihood. */
  warns: boolean
  /** How many factors on η the lives refer to. */
  factors: number
  /** Whether ν is learned: by default, where a life ended by it. */
  notices?: boolean
}

/** @param lives their ages in one clock unit */
export function livesLikelihood(lives: readonly LivedLife[], learned: Learned): LivesLikelihood {
  const packed = packLives(lives, learned.warns)
  const layout = layoutOf({ notices: packed.sums.noticed > 0, ...learned })
  const { endings, contradictory, withoutWarning } = packed.sums
  return { layout, ...evaluator(packed, layout), endings, contradictory, withoutWarning }
}

function layoutOf({ warns, notices, factors }: Required<Learned>): Layout {
  const logPfMean = warns ? 2 : null
  const logNoticeRate = notices ? 3 : null
  const first = 2 + (warns ? 1 : 0) + (notices ? 1 : 0)
  return { size: first + factors, logScale: 0, logShape: 1, logPfMean, logNoticeRate, factors: first }
}

/** δ* = 1/(1/δ + ν), the mean time in the developing state, and how its logarithm moves with ln δ and ln ν. */
function timeDeveloping(point: ArrayLike<number>, { logPfMean, logNoticeRate }: Layout) {
  if (logPfMean === null) return { log: Number.NEGATIVE_INFINITY, byPfMean: 0, byNoticeRate: 0 }
  const noticed = logNoticeRate === null ? 0 : Math.exp(point[logPfMean]! + point[logNoticeRate]!)
  return {
    log: point[logPfMean]! - Math.log1p(noticed),
    byPfMean: 1 / (1 + noticed),
    byNoticeRate: -noticed / (1 + noticed),
  }
}

/** Lives of one combination of factors have their own η, and a table. */
type Kind = { factors: readonly number[]; table: Float64Array; byScale: number }
type Way = { kind: number; share: number }

function evaluator(packed: PackedLives, layout: Layout): Pick<LivesLikelihood, 'at' | 'valueAt'> {
  const { kinds, waysOf } = kindsOf(packed)
  const runner = lifeRunner(packed)
  const sum = new Float64Array(4)

  return { at, valueAt }

  function valueAt(point: ArrayLike<number>): number {
    const stay = timeDeveloping(point, layout)
    const parameters = kinds.map((kind) => prepare(kind, point, stay.log))
    const valueOfLife = (life: number, { kind }: Way) => {
      runner.set(parameters[kind]!)
      return runner.value(life)
    }
    let value = 0
    waysOf.forEach((ways, life) => {
      value +=
        ways.length === 1
          ? valueOfLife(life, ways[0]!)
          : ways.map((way) => Math.log(way.share) + valueOfLife(life, way)).reduce(logSum)
    })
    return value + addSums(packed, point, layout, stay, 0, new Float64Array(layout.size))
  }

  function at(point: ArrayLike<number>): ReturnType<Smooth> {
    const gradient = new Float64Array(layout.size)
    const stay = timeDeveloping(point, layout)
    const parameters = kinds.map((kind) => prepare(kind, point, stay.log))
    sum.fill(0)
    waysOf.forEach((ways, life) => {
      if (ways.length === 1) add(life, ways[0]!, 1)
      else addMixture(life, ways)
    })
    const [value = 0, , byShape = 0, byStay = 0] = sum
    gradient[layout.logShape] = byShape
    for (const { factors, byScale } of kinds) {
      gradient[layout.logScale]! += byScale
      for (const f of factors) gradient[layout.factors + f]! += byScale
    }
    return { value: value + addSums(packed, point, layout, stay, byStay, gradient), gradient }

    function add(life: number, { kind }: Way, weight: number): void {
      runner.set(parameters[kind]!)
      const one = runner.run(life)
      for (let part = 0; part < sum.length; part++) sum[part]! += weight * one[part]!
      kinds[kind]!.byScale += weight * one[1]!
    }

    /** ln Σ share·likelihood; the derivatives are averages by what each way contributes to it. */
    function addMixture(life: number, ways: Way[]): void {
      const logs = ways.map((way) => {
        runner.set(parameters[way.kind]!)
        return Math.log(way.share) + runner.run(life)[0]!
      })
      const total = logs.reduce(logSum)
      const before = sum[0]!
      ways.forEach((way, w) => {
        add(life, way, Math.exp(logs[w]! - total))
      })
      sum[0] = before + total
    }
  }

  function prepare(kind: Kind, point: ArrayLike<number>, logPfMean: number): RunParameters {
    const logScale = kind.factors.reduce(
      (log, f) => log + point[layout.factors + f]!,
      point[layout.logScale]!,
    )
    const logShape = point[layout.logShape]!
    if (layout.logPfMean !== null) fillTable(packed.grid, { logScale, logShape, logPfMean }, kind.table)
    kind.byScale = 0
    return { table: kind.table, shape: Math.exp(logShape), logScale, failRate: Math.exp(-logPfMean) }
  }
}

/** The combinations of factors that occur, and by which of them each life may be. */
function kindsOf({ grid, ways }: PackedLives): { kinds: Kind[]; waysOf: Way[][] } {
  const kinds: Kind[] = []
  const known = new Map<string, number>()
  const kindOf = (factors: readonly number[]) => {
    const key = factors.toSorted((a, b) => a - b).join()
    const found = known.get(key) ?? kinds.push({ factors, table: makeTable(grid), byScale: 0 }) - 1
    known.set(key, found)
    return found
  }
  const waysOf = ways.map((of) => of.map(({ share, factors }) => ({ kind: kindOf(factors), share })))
  return { kinds, waysOf }
}

/** The terms that are sums over all lives: the density's 1/δ, ν, and time spent developing for certain. */
function addSums(
  { sums }: PackedLives,
  point: ArrayLike<number>,
  { logPfMean, logNoticeRate }: Layout,
  stay: ReturnType<typeof timeDeveloping>,
  byStay: number,
  gradient: Float64Array,
): number {
  if (logPfMean === null) return sums.constant
  const rate = Math.exp(-stay.log)
  let value = sums.constant - sums.decay * rate - (sums.failed + sums.failedSince) * point[logPfMean]!
  let byTime = byStay + sums.decay * rate + sums.failedSince
  value += sums.failedSince * stay.log
  for (const gap of sums.gaps) {
    value += Math.log(-Math.expm1(-gap * rate))
    byTime -= (gap * rate) / Math.expm1(gap * rate)
  }
  gradient[logPfMean] = byTime * stay.byPfMean - sums.failed - sums.failedSince
  if (logNoticeRate !== null) {
    value += sums.noticed * point[logNoticeRate]!
    gradient[logNoticeRate] = byTime * stay.byNoticeRate + sums.noticed
  }
  return value
}
