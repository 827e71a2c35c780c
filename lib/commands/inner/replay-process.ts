/** A process that looks back from one cut-off after the other: it is told the work first, then each day. */
import { replayInput } from '@/lib/replay/learning'
import { Past, type ReplayWork } from '@/lib/replay/replay'

let past: Past | null = null
process.on('message', (message: ReplayWork | number) => {
  if (typeof message !== 'number') past = new Past(replayInput(message))
  else process.send?.(past?.casesAt(message))
})
