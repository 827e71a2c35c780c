/** The replay of the library in force; or of one that is to take its place, beside it. */
import type { Library } from '@/lib/records/library'
import { type Comparison, compareForecasts } from './compare-forecasts'
import { lookBackInSteps, type ReplayProgress, withOutcomes } from './look-back'
import { judgeAll, type Replay, type ReplayWork } from './replay'

export interface TryOut {
  /** The library in it is the one in force. */
  work: ReplayWork
  /** What is to be tried in its place; null where that one itself is to be judged. */
  draft: Library | null
}

export interface Tried {
  /** Of the draft, where there is one. */
  replay: Replay
  /** The draft against the library in force. */
  comparison: Comparison | null
}

/** Replays in steps of a cut-off each. Both libraries face the same outcomes: what happened does not hang on a draft. */
export function* tryOut({ work, draft }: TryOut): Generator<ReplayProgress, Tried> {
  const times = draft ? 2 : 1
  const inForce = yield* inTurn(lookBackInSteps(work), { before: 0, times })
  const cases = withOutcomes(work, inForce)
  if (!draft) return { replay: judgeAll(work, cases), comparison: null }
  const drafted = { ...work, library: draft }
  const { said } = yield* inTurn(lookBackInSteps(drafted), { before: 1, times })
  const tried = withOutcomes(drafted, { said, warnings: inForce.warnings })
  return {
    replay: judgeAll(drafted, tried),
    comparison: compareForecasts(cases.flat(), tried.flat()),
  }
}

/** One of several replays of the same length, told as part of all. */
function* inTurn<Value>(
  steps: Generator<ReplayProgress, Value>,
  { before, times }: { before: number; times: number },
): Generator<ReplayProgress, Value> {
  let step = steps.next()
  for (; !step.done; step = steps.next()) {
    const { done, total } = step.value
    yield { done: before * total + done, total: times * total }
  }
  return step.value
}
