import { type ClusterGuess, OdometerJudge, type Surroundings } from './odometer-judge'
import type { OdometerCause, OdometerPoint } from './odometer-points'

/**
 * Labels distrusted readings, in place, with their likeliest cause. They are judged in runs: neighbours in
 * time, without a trusted reading between them, that follow from one another at a plausible rate.
 *
 * @param points distrusted readings in time order.
 * @returns the new clusters that a person should confirm.
 */
export function labelDistrusted(points: OdometerPoint[], surroundings: Surroundings): ClusterGuess[] {
  const judge = new OdometerJudge(surroundings)
  return runsOf(points, judge).flatMap((run) => labelRun(run, judge) ?? [])
}

function runsOf(points: OdometerPoint[], judge: OdometerJudge): OdometerPoint[][] {
  const runs: OdometerPoint[][] = []
  for (const point of points) {
    const run = runs.at(-1)
    const last = run?.at(-1)
    if (run && last && judge.isNextOf(last, point)) run.push(point)
    else runs.push([point])
  }
  return runs
}

/** A mistake that explains all of a run comes first, then a break at one of its ends, then single slips. */
function labelRun(run: OdometerPoint[], judge: OdometerJudge): ClusterGuess | null {
  const broken = judge.breakOf(run)
  const common = commonMistake(run, judge) ?? broken?.cause ?? null
  for (const point of run) point.cause = common ?? slipOf(point, judge)
  return common === 'cluster replacement' && broken ? broken.guess : null
}

function commonMistake(run: OdometerPoint[], judge: OdometerJudge): OdometerCause | null {
  if (run.every((point) => judge.isOtherUnit(point))) return 'unit mix-up'
  return run.length > 1 && judge.isSwapped(run) ? 'swapped vehicle' : null
}

function slipOf(point: OdometerPoint, judge: OdometerJudge): OdometerCause {
  if (judge.isDigitSlip(point)) return 'digit slip'
  return judge.isSwapped([point]) ? 'swapped vehicle' : 'unexplained'
}
