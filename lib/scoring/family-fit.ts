/** What was learned from an organisation's own lives, weak point by weak point. */
import type { LivesFit } from '@/lib/model/fit-lives'
import type { Day } from '@/lib/units/dates'
import type { ObservedLife } from './observed-life'

/** How many lives were learned from, by how they ended, and how many could not be. */
export interface LifeCounts {
  failed: number
  developing: number
  sound: number
  /** Renewed with nothing recorded, lost from sight, or still running. */
  running: number
  /** Of unknown beginning, or ended before the watch. */
  leftOut: number
}

/** What the lives of one weak point taught; where there were none, or no peak was found, the statement. */
export interface LearnedLife extends Omit<LivesFit, 'endings'> {
  lives: LifeCounts
  /** What was counted of the same lives without a model; fits of earlier versions lack it. */
  observed?: ObservedLife
}

/** Whether anything was learned, so that scores are to rest on it. */
export const wasLearned = ({
  converged,
  lives: { failed, developing, sound, running },
}: LearnedLife): boolean => converged && failed + developing + sound + running > 0

/** What was learned of one sign. */
export interface SignRates {
  leak: number
  /** By weak point. */
  detect: ReadonlyMap<string, number>
}

/** By sign; those of which nothing was learned are left out. */
export type FamilyRates = ReadonlyMap<string, SignRates>

export interface FamilyFit {
  /** Records up to this day were learned from. */
  asOf: Day
  weakPoints: ReadonlyMap<string, LearnedLife>
  /** How often its signs are seen, where that was learned; fits of earlier versions know of none. */
  signs: FamilyRates
}

/** What was learned of every family of a library. */
export interface FleetFit {
  asOf: Day
  families: ReadonlyMap<string, FamilyFit>
}
