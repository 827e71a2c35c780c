/** Looks back from every cut-off, in this process. */
import type { FleetFit } from '@/lib/scoring/family-fit'
import { FollowedAgain } from '@/lib/scoring/follow-again'
import type { Day } from '@/lib/units/dates'
import type { ReplayCase, Said } from './judge'
import { learnedWarning, RunLearner, runsOf, type Warnings, warningsOf } from './learning'
import { Hindsight } from './outcomes'
import { casesOf, cutOffsOf, type ReplayWork } from './replay'
import { type Learner, saidOn } from './what-was-said'

/** Cut-offs done so far, of all. */
export interface ReplayProgress {
  done: number
  total: number
}

/** What was said on the days of a run; then what the last of them taught, null where nothing is learned. */
export function* alongRun(
  { records, library, plan, learning }: ReplayWork,
  days: readonly Day[],
): Generator<Said[], FleetFit | null> {
  const learner = new RunLearner({ library, settings: records.settings, days: plan.days })
  const asked = { records, library, days: plan.days, followed: new FollowedAgain() }
  for (const cutOff of days) yield saidOn(asked, cutOff, learning ? learner.scorer : undefined)
  return learner.learned
}

/** What was said at each cut-off, and δ of each weak point as learned. */
export interface SaidOfAll {
  said: Said[][]
  warnings: Warnings | null
}

/** The product at every cut-off, one after the other. */
export function* lookBackInSteps(work: ReplayWork): Generator<ReplayProgress, SaidOfAll> {
  const total = cutOffsOf(work.plan).length
  const said: Said[][] = []
  let learned: FleetFit | null = null
  for (const days of runsOf(work.plan)) {
    const along = alongRun(work, days)
    let step = along.next()
    for (; !step.done; step = along.next()) {
      said.push(step.value)
      yield { done: said.length, total }
    }
    learned = step.value
  }
  return { said, warnings: learned && warningsOf(work, learned) }
}

/** Puts beside what was said what came of it. */
export function withOutcomes(work: ReplayWork, { said, warnings }: SaidOfAll): ReplayCase[][] {
  const hindsight = new Hindsight(work.records, learnedWarning(warnings))
  return said.map((each) => casesOf(each, hindsight, work))
}

/**
 * Every component at every cut-off at one go, with what was said and what came.
 *
 * @param learn who scores, where it is not the product
 */
export function lookBack(
  work: ReplayWork,
  onProgress?: (progress: ReplayProgress) => void,
  learn?: Learner,
): ReplayCase[][] {
  if (learn) return withOutcomes(work, saidBy(learn, work))
  const steps = lookBackInSteps(work)
  let step = steps.next()
  for (; !step.done; step = steps.next()) onProgress?.(step.value)
  return withOutcomes(work, step.value)
}

const saidBy = (learn: Learner, { records, library, plan }: ReplayWork): SaidOfAll => ({
  said: cutOffsOf(plan).map((cutOff) => saidOn({ records, library, days: plan.days }, cutOff, learn)),
  warnings: null,
})
