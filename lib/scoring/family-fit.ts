/** What was learned from an organisation's own lives, weak point by weak point. */
import type { ParameterNodes } from '@/lib/model/parameter-nodes'
import type { TwoStage } from '@/lib/model/two-stage'
import type { Day } from '@/lib/units/dates'

/** How many lives were learned from, by how they ended, and how many could not be. */
export interface LifeCounts {
  failed: number
  developing: number
  sound: number
  /** Renewed with nothing recorded, lost from sight, or still running. */
  running: number
  /** Of unknown beginning, or ended before the watch. */
  leftOut: number
}

export interface LearnedLife {
  /** The likeliest parameters of the original part, in the weak point's clock unit. */
  mode: TwoStage
  /** The rate at which developing defects are noticed with no sign on record; 0 where every one had a sign. */
  noticeRate: number
  /** Factors on η, in the order of `lifeFactors`: logarithms. */
  factors: readonly number[]
  /** Of ln η, ln β, ln δ (where the part gives warning), ln of the notice rate (where there is one), ln of each factor. */
  covariance: readonly (readonly number[])[]
  /** Of the original part. */
  nodes: ParameterNodes
  logLikelihood: number
  lives: LifeCounts
}

export interface FamilyFit {
  /** Records up to this day were learned from. */
  asOf: Day
  weakPoints: ReadonlyMap<string, LearnedLife>
}

/** What was learned of every family of a library. */
export interface FleetFit {
  asOf: Day
  families: ReadonlyMap<string, FamilyFit>
}
