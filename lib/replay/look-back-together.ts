/** Looks back in processes of its own, so that whoever asks is not held up. */
import { availableParallelism } from 'node:os'
import type { FleetFit } from '@/lib/scoring/family-fit'
import type { Day } from '@/lib/units/dates'
import type { Answered, Told } from './inner/replay-process'
import type { ReplayCase, Said } from './judge'
import { runsOf, type Warnings } from './learning'
import { type ReplayProgress, withOutcomes } from './look-back'
import { ProcessApart } from './process-apart'
import { cutOffsOf, type ReplayWork } from './replay'
import type { Tried, TryOut } from './try-out'

type OnProgress = (progress: ReplayProgress) => void

/**
 * In as many processes as the machine runs at once; the latest run, which takes longest, comes first. What all records
 * teach goes on from it, and comes last.
 */
export async function lookBackTogether(work: ReplayWork, onProgress: OnProgress): Promise<ReplayCase[][]> {
  const total = cutOffsOf(work.plan).length
  const runs = runsOf(work.plan)
  const said: Said[][][] = []
  let warnings: Warnings | null = null
  let done = 0
  const waiting = runs.map((days, k) => async (child: Helper) => {
    const ended = await child.goAlong(days, () => onProgress({ done: ++done, total }))
    said[k] = ended.said
    const { learned } = ended
    if (!learned || k < runs.length - 1) return
    waiting.unshift(async (next) => {
      warnings = await next.learnWarnings(learned)
    })
  })
  const helper = async () => {
    const child = new Helper()
    try {
      child.tell({ work })
      for (let next = waiting.pop(); next; next = waiting.pop()) await next(child)
    } finally {
      child.end()
    }
  }
  await Promise.all(Array.from({ length: Math.min(availableParallelism(), runs.length) }, helper))
  return withOutcomes(work, { said: said.flat(), warnings })
}

/**
 * The whole of it in one process, which leaves the others of the machine to those who wait for pages.
 *
 * @param signal ends it before it is done
 * @throws where it broke off, in words for whoever asked
 */
export async function tryOutApart(
  asked: TryOut,
  onProgress: OnProgress,
  signal?: AbortSignal,
): Promise<Tried> {
  signal?.throwIfAborted()
  const child = new Helper()
  const end = () => child.end()
  signal?.addEventListener('abort', end)
  try {
    return await child.goThroughAll(asked, onProgress)
  } finally {
    signal?.removeEventListener('abort', end)
    child.end()
  }
}

const BROKE_OFF = 'Looking back broke off: ask again. If it happens twice, the log of the server says why'

class Helper extends ProcessApart<Told, Answered> {
  constructor() {
    super(new URL('./inner/replay-process.ts', import.meta.url), BROKE_OFF)
  }

  goAlong(run: Day[], onDay: () => void): Promise<{ said: Said[][]; learned: FleetFit | null }> {
    const said: Said[][] = []
    return this.ask({ run }, (answered) => {
      if ('said' in answered) {
        said.push(answered.said)
        onDay()
      }
      return 'learned' in answered ? { said, learned: answered.learned } : null
    })
  }

  learnWarnings(earlier: FleetFit): Promise<Warnings> {
    return this.ask({ earlier }, (answered) => ('warnings' in answered ? answered.warnings : null))
  }

  goThroughAll(asked: TryOut, onProgress: OnProgress): Promise<Tried> {
    return this.ask({ tryOut: asked }, (answered) => {
      if ('done' in answered) onProgress(answered)
      return 'tried' in answered ? answered.tried : null
    })
  }
}
