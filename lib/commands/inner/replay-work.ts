import type { Library } from '@/lib/records/library'
import type { Records } from '@/lib/records/rows'
import { learningReplay } from '@/lib/replay/learning'
import type { ReplayInput, ReplayPlan } from '@/lib/replay/replay'

/** What a replay is asked to do, in words that reach another thread. */
export interface ReplayWork {
  records: Records
  library: Library
  plan: ReplayPlan
  learning: boolean
}

export const inputOf = ({ records, library, plan, learning }: ReplayWork): ReplayInput =>
  learning ? learningReplay(records, library, plan) : { records, library, plan }
