import { meanLife, meanLifeUpTo } from './mean-life'
import { findRoot } from './roots'
import { logFailureDensity, logSoundSurvival, logSurvival, type TwoStage } from './two-stage'

/**
 * The best age to replace a part, and what it costs per clock unit in the long run.
 *
 * `finite` false: no age beats running to failure; then `tStar` and the stretch are infinite and `gStar` is the
 * cost rate of running to failure.
 */
export type AgeReplacement =
  | {
      ok: true
      finite: boolean
      /** Optimum age T*, in the clock units of the life. */
      tStar: number
      /** Cost rate g* at the optimum, money per clock unit. */
      gStar: number
      /** The ages between which the cost rate lies within 5 % of g*; `flatHigh` is infinite where it never leaves. */
      flatLow: number
      flatHigh: number
      meanLife: number
    }
  | { ok: false; reason: 'outside-domain' }

const FLAT = 1.05
/** The optimum is looked for on these ages, in scales η; a later one would be reached by no part. */
const FIRST_AGE = 1e-4
const LAST_AGE = 200
const AGE_STEP = 1.5

/**
 * Age replacement: the age T that minimises g(T) = (cp·S_F(T) + cf·(1 − S_F(T))) / ∫₀ᵀ S_F.
 *
 * The optimum solves h(T)·∫₀ᵀ S_F − F(T) = cp/(cf − cp) with h the hazard of the failure. That hazard tends to 1/δ
 * at most, so the optimum may be infinite although β > 1: it then needs E[F]/δ > cf/(cf − cp). Where β < 1 and
 * δ > 0 the hazard rises and falls again, so a solution counts only if it beats running to failure.
 * Source: Barlow & Hunter (1960), Operations Research 8, 90-100, from memory.
 *
 * @param plannedCost cp > 0, cost of a planned replacement
 * @param failureCost cf, cost of a replacement after a failure; not above cp means run to failure
 */
export function ageReplacement(life: TwoStage, plannedCost: number, failureCost: number): AgeReplacement {
  const { shape, scale, pfMean } = life
  const inDomain = shape > 0 && scale > 0 && pfMean >= 0 && plannedCost > 0 && failureCost >= 0
  if (!inDomain || !Number.isFinite(shape + scale + pfMean + plannedCost + failureCost))
    return { ok: false, reason: 'outside-domain' }

  const mean = meanLife(life)
  const runToFailure = failureCost / mean
  const rate = (age: number) => costRate(age, life, plannedCost, failureCost)
  const tStar = optimumAge(life, plannedCost, failureCost)
  const gStar = rate(tStar)
  if (!(gStar < runToFailure)) {
    const never = Number.POSITIVE_INFINITY
    const ages = { tStar: never, flatLow: never, flatHigh: never }
    return { ok: true, finite: false, gStar: runToFailure, meanLife: mean, ...ages }
  }

  const excess = (age: number) => rate(age) - FLAT * gStar
  const flatLow = findRoot(excess, 0, tStar)
  const flatHigh =
    runToFailure <= FLAT * gStar ? Number.POSITIVE_INFINITY : findRoot(excess, tStar, LAST_AGE * scale)
  return { ok: true, finite: true, tStar, gStar, flatLow, flatHigh, meanLife: mean }
}

/** Long-run cost per clock unit of replacing at `age` or at failure; infinite at age 0. */
export function costRate(age: number, life: TwoStage, plannedCost: number, failureCost: number): number {
  if (age === Number.POSITIVE_INFINITY) return failureCost / meanLife(life)
  const survives = Math.exp(logSurvival(age, life))
  return (plannedCost * survives + failureCost * (1 - survives)) / meanLifeUpTo(age, life, survives)
}

/** The first age at which waiting longer stops paying, or infinity. */
function optimumAge(life: TwoStage, plannedCost: number, failureCost: number): number {
  if (failureCost <= plannedCost) return Number.POSITIVE_INFINITY
  const target = plannedCost / (failureCost - plannedCost)
  const loss = (age: number) => {
    const density = Math.exp(logFailureDensity(age, life))
    const survives = Math.exp(logSoundSurvival(age, life)) + life.pfMean * density
    return (density / survives) * meanLifeUpTo(age, life, survives) - (1 - survives) - target
  }
  for (let age = FIRST_AGE * life.scale; age < LAST_AGE * life.scale; age *= AGE_STEP)
    if (loss(age) >= 0) return findRoot(loss, age / AGE_STEP, age)
  return Number.POSITIVE_INFINITY
}
