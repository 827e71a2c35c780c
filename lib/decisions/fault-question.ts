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
  /** No step that would bring what is spent above it. */
  spendingLimit?: number
}

export type FaultStep = ({ look: string } | { renew: { weakPoint: string; position: number } }) & {
  cost: number
  /** Given that all before it brought nothing: P(it ends the search), of a look P(it is seen). */
  chanceResolved: number
  /** Given the same: what finding the fault costs from here on, this step included. */
  expectedCostFromHere: number
}

/** P(seen | this one is the fault): its defect shows it, or what shows it without cause. */
export const seenBy = ({ leak, detect }: FaultLook, cause: number): number =>
  1 - (1 - leak) * (1 - (detect[cause] ?? 0))
