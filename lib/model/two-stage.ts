/**
 * The three states `sound → developing → failed`: the onset of a detectable defect at age U ~ Weibull, and the
 * failure at F = U + H with H exponential (the delay-time model, Christer & Waller 1984).
 *
 * Everything is computed from integrals of positive terms, in logarithms relative to the survival at the start of
 * the step, so no difference cancels and nothing underflows before its value does. Domain: shape 0.5 to 10,
 * pfMean / scale 0 to 10, ages 0 to 20 scales; about 1e-11 relative. Ages share the clock unit of the life.
 */
import { integrate, reachOf } from './quadrature'

/** Shape β and scale η of the onset age, and mean δ of the P–F interval (0: the part fails without warning). */
export type TwoStage = { shape: number; scale: number; pfMean: number }

/** Masses of a part not failed at the start of a step, at its end; they sum to 1. */
export type Step = { sound: number; developing: number; fails: number }

/** ln P(sound at `age`): ln S_U = −(a/η)^β. */
export function logSoundSurvival(age: number, life: TwoStage): number {
  return -cumulativeHazard(age, life)
}

/** ln P(developing and not failed at `age`), ln D(a) with D = ∫₀ᵃ f_U(u)·e^(−(a−u)/δ) du; −∞ where δ = 0. */
export function logDeveloping(age: number, life: TwoStage): number {
  return logOnsetStillDeveloping(0, age, life)
}

/** ln P(not failed at `age`): ln S_F = ln(S_U + D). */
export function logSurvival(age: number, life: TwoStage): number {
  return logSum(logSoundSurvival(age, life), logDeveloping(age, life))
}

/** ln of the density of the failure age, per clock unit: f_F = D/δ, or f_U where δ = 0. */
export function logFailureDensity(age: number, life: TwoStage): number {
  const { shape, scale, pfMean } = life
  if (pfMean > 0) return logDeveloping(age, life) - Math.log(pfMean)
  const power = shape === 1 ? 0 : (shape - 1) * Math.log(age / scale)
  return Math.log(shape / scale) + power - cumulativeHazard(age, life)
}

/**
 * What becomes of a part sound at `from` whose defect sets in by `to`, 0 ≤ from ≤ to.
 *
 * @returns `developing` = ∫ f_U(u)·e^(−(to−u)/δ) du / S_U(from) and `fails` = ∫ f_U(u)·(1 − e^(−(to−u)/δ)) du / S_U(from)
 */
export function onsetIntegrals(
  from: number,
  to: number,
  life: TwoStage,
): { developing: number; fails: number } {
  const onset = -Math.expm1(-hazardBetween(from, to, life))
  const developing = Math.exp(logOnsetStillDeveloping(from, to, life))
  // Where most of the onsets have failed, the difference loses no more than one bit.
  const fails = developing <= onset / 2 ? onset - developing : onsetFailing(from, to, life)
  return { developing, fails }
}

/**
 * Moves a belief from one age to another: the score itself.
 *
 * @param belief P(developing | everything known, not failed) at `from`, 0 to 1
 * @param from age now, 0 ≤ from ≤ to
 * @param to age at the end of the step
 */
export function propagate(belief: number, from: number, to: number, life: TwoStage): Step {
  const lapse = to > from ? (to - from) / life.pfMean : 0
  const onset = onsetIntegrals(from, to, life)
  const sound = 1 - belief
  return {
    sound: sound * Math.exp(-hazardBetween(from, to, life)),
    developing: belief * Math.exp(-lapse) + sound * onset.developing,
    fails: -belief * Math.expm1(-lapse) + sound * onset.fails,
  }
}

/** The logarithms of {@link propagate}'s masses of the parts not failed, for steps after which both underflow. */
export function logPropagate(
  belief: number,
  from: number,
  to: number,
  life: TwoStage,
): { sound: number; developing: number } {
  const lapse = to > from ? (to - from) / life.pfMean : 0
  const logSound = Math.log1p(-belief)
  const onset = logOnsetStillDeveloping(from, to, life)
  return {
    sound: logSound - hazardBetween(from, to, life),
    developing: logSum(Math.log(belief) - lapse, logSound + onset),
  }
}

/** (a/η)^β, the cumulative hazard Λ of the onset. */
export function cumulativeHazard(age: number, { shape, scale }: TwoStage): number {
  return (age / scale) ** shape
}

/** Λ(to) − Λ(from), without cancellation for short steps. */
export function hazardBetween(from: number, to: number, life: TwoStage): number {
  const before = cumulativeHazard(from, life)
  if (to > 2 * from) return cumulativeHazard(to, life) - before
  return before === 0 ? 0 : before * Math.expm1(life.shape * Math.log1p((to - from) / from))
}

/**
 * ln of ∫ f_U(u)·e^(−(to−u)/δ) du / S_U(from) over (from, to].
 *
 * With w = Λ(u) the integrand is exp(−(w − Λ(from)) − (to − u)/δ): no singularity is left at 0 where β < 1. It
 * turns where the onset hazard equals 1/δ: once, up then down where β ≥ 1 and down then up where β < 1. So it is
 * two monotone flanks, each integrated from its peak.
 */
function logOnsetStillDeveloping(from: number, to: number, life: TwoStage): number {
  if (life.pfMean === 0 || to <= from) return Number.NEGATIVE_INFINITY
  const turn = Math.min(to, Math.max(from, turningAge(life)))
  const flanks = life.shape < 1 ? [flank(from, turn), flank(to, turn)] : [flank(turn, from), flank(turn, to)]
  return logSum(flanks[0]!, flanks[1]!)

  function flank(peak: number, end: number): number {
    if (peak === end) return Number.NEGATIVE_INFINITY
    const height = -hazardBetween(from, peak, life) - (to - peak) / life.pfMean
    return height + logFlank(peak, end, life)
  }
}

/** The age at which the onset hazard equals 1/δ: there e^(−Λ(u) + u/δ) turns. */
function turningAge({ shape, scale, pfMean }: TwoStage): number {
  if (shape === 1) return pfMean < scale ? Number.POSITIVE_INFINITY : 0
  return scale * Math.exp(Math.log(scale / (pfMean * shape)) / (shape - 1))
}

/** ln of ∫ e^(−(w − w₀) + (u − u₀)/δ) dw from the peak's w₀ = Λ(u₀) to the end's, a falling integrand. */
function logFlank(peak: number, end: number, life: TwoStage): number {
  const up = end > peak
  const length = up ? hazardBetween(peak, end, life) : hazardBetween(end, peak, life)
  const ageGained = ageAfterHazard(peak, life)
  const logRelative = (distance: number) => {
    const hazard = up ? distance : -distance
    return -hazard + ageGained(hazard) / life.pfMean
  }
  const reach = reachOf(logRelative, length)
  return Math.log(integrate((distance) => Math.exp(logRelative(distance)), reach))
}

/** The part of the onsets in (from, to] that has failed by `to`, over S_U(from); its integrand falls from `from` on. */
function onsetFailing(from: number, to: number, life: TwoStage): number {
  const ageGained = ageAfterHazard(from, life)
  const reach = reachOf((hazard) => -hazard, hazardBetween(from, to, life))
  return integrate((hazard) => {
    const lag = Math.max(0, to - from - ageGained(hazard))
    return -Math.exp(-hazard) * Math.expm1(-lag / life.pfMean)
  }, reach)
}

/** How far the age moves from `age` while the cumulative hazard of the onset moves by the argument (may be < 0). */
function ageAfterHazard(age: number, life: TwoStage): (hazard: number) => number {
  const start = cumulativeHazard(age, life)
  const exponent = 1 / life.shape
  return (hazard) =>
    hazard >= start
      ? life.scale * (start + hazard) ** exponent - age
      : age * Math.expm1(exponent * Math.log1p(hazard / start))
}

/** ln(e^a + e^b). */
export function logSum(a: number, b: number): number {
  const larger = Math.max(a, b)
  return larger === Number.NEGATIVE_INFINITY ? larger : larger + Math.log1p(Math.exp(Math.min(a, b) - larger))
}
