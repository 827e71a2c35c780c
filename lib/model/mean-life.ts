import { integrate } from './quadrature'
import { cumulativeHazard, logSurvival, type TwoStage } from './two-stage'

/** Beyond this cumulative hazard no part is sound any more, to the last digit. */
const GONE = 60

/** Mean age at failure, E[F] = η·Γ(1 + 1/β) + δ, in clock units. */
export function meanLife(life: TwoStage): number {
  return life.scale * onsetMoment(GONE, life.shape) + life.pfMean
}

/**
 * Mean age at failure or at `age`, whichever comes first: ∫₀^age S_F.
 *
 * The sound part is ∫ S_U = age·S_U(age) + ∫ u·f_U(u) du, the developing part ∫ D = δ·P(failed by `age`), since
 * D/δ is the density of the failures: all terms are positive.
 *
 * @param survives S_F(age), where the caller has it already
 */
export function meanLifeUpTo(
  age: number,
  life: TwoStage,
  survives = Math.exp(logSurvival(age, life)),
): number {
  const hazard = cumulativeHazard(age, life)
  const onset = life.scale * onsetMoment(Math.min(GONE, hazard), life.shape)
  return age * Math.exp(-hazard) + onset + life.pfMean * (1 - survives)
}

/** ∫ w^(1/β)·e^(−w) dw from 0: the onset ages in units of η, by their cumulative hazard w. */
function onsetMoment(hazard: number, shape: number): number {
  return integrate((w) => w ** (1 / shape) * Math.exp(-w), hazard)
}
