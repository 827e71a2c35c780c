/** Where the fault is, as a question: what it may be, what could be looked at, and what came out so far. */

export interface FaultCause {
  weakPoint: string
  position: number
  /** P(it is this one); the chances sum to 1. */
  chance: number
  /** C_p. */
  cost: number
  /** P(replacing it ends the search | it is this one). */
  success: number
}

export interface FaultLook {
  /** What is looked for. */
  look: string
  cost: number
  /** Looks that are made at one go (a scan reads all codes): the first of them is paid for. Null: by itself. */
  atOnce?: string | null
  /** P(seen | the fault is none that shows it). */
  leak: number
  /** By cause: P(its defect shows the sign). */
  detect: readonly number[]
}

/** What came out so far. */
export type FaultResult = { look: string; seen: boolean } | { renewed: number }

export interface FaultQuestion {
  causes: readonly FaultCause[]
  looks: readonly FaultLook[]
  /** In any order. */
  results?: readonly FaultResult[]
  /** What it costs where nothing of all this ended it. */
  fallback?: number
  /** What may be spent before somebody is asked. */
  spendingLimit?: number
}

export type FaultStep = ({ look: string } | { renew: { weakPoint: string; position: number } }) & {
  cost: number
  /** Given that all before it brought nothing: P(it ends the search), of a look P(it is seen). */
  chanceResolved: number
  /** Given the same: what finding the fault costs from here on, this step included. */
  expectedCostFromHere: number
}

/**
 * Why to stop: `limit`, the next step would bring what is spent above what may be; `likeliest-job`, what looking goes on
 * to cost beside the right job is more, on the mean, than the likeliest job itself.
 */
export type FaultStop = { after: number; why: 'limit' | 'likeliest-job' }

/** P(seen | this one is the fault): its defect shows it, or what shows it without cause. */
export const seenBy = ({ leak, detect }: FaultLook, cause: number): number =>
  1 - (1 - leak) * (1 - (detect[cause] ?? 0))
