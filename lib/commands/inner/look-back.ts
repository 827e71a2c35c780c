import { type ChildProcess, fork } from 'node:child_process'
import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import type { ReplayCase } from '@/lib/replay/judge'
import { replayInput } from '@/lib/replay/learning'
import { cutOffsOf, Past, type ReplayWork } from '@/lib/replay/replay'

/** Looks back from every cut-off; answers in their order. */
export type LookBack = (
  work: ReplayWork,
  onProgress: (done: number, total: number) => void,
) => Promise<ReplayCase[][]>

/** In this process, one after the other. */
export const lookBackHere: LookBack = async (work, onProgress) => {
  const days = cutOffsOf(work.plan)
  const past = new Past(replayInput(work))
  return days.map((cutOff, k) => {
    const cases = past.casesAt(cutOff)
    onProgress(k + 1, days.length)
    return cases
  })
}

/** In as many processes as the machine runs at once; the latest cut-offs, which take longest, come first. */
export const lookBackTogether: LookBack = async (work, onProgress) => {
  const days = cutOffsOf(work.plan)
  const found: ReplayCase[][] = []
  const waiting = days.map((_, k) => k)
  let done = 0
  const helper = async () => {
    const child = fork(fileURLToPath(new URL('./replay-process.ts', import.meta.url)), {
      serialization: 'advanced',
    })
    try {
      child.send(work)
      for (let k = waiting.pop(); k !== undefined; k = waiting.pop()) {
        found[k] = await ask(child, days[k]!)
        onProgress(++done, days.length)
      }
    } finally {
      child.kill()
    }
  }
  await Promise.all(Array.from({ length: Math.min(availableParallelism(), days.length) }, helper))
  return found
}

function ask(child: ChildProcess, cutOff: number): Promise<ReplayCase[]> {
  return new Promise((resolve, reject) => {
    const ended = () => reject(new Error('a helper ended before it was done; its last lines say why'))
    child.once('exit', ended)
    child.once('message', (cases: ReplayCase[]) => {
      child.off('exit', ended)
      resolve(cases)
    })
    child.send(cutOff)
  })
}
