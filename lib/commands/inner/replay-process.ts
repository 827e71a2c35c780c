/** A process that looks back from one cut-off after the other: it is told the work first, then each day. */
import { Past } from '@/lib/replay/replay'
import { inputOf, type ReplayWork } from './replay-work'

let past: Past | null = null
process.on('message', (message: ReplayWork | number) => {
  if (typeof message !== 'number') past = new Past(inputOf(message))
  else process.send?.(past?.casesAt(message))
})
