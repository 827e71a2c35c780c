/**
 * One life as a fit sees it: where it began, what every look at it said, how it ended. All ages are effective ages
 * in the clock unit of the weak point, counted from the renewal (or, after a partial one, from the age it left).
 */
export type LivedLife = {
  /** The age at which the masses of sound and developing are 1 − `developing` and `developing`, with no look yet. */
  startAge: number
  /** π: the chance that the life began with a defect already there; 0 for an original part and where δ = 0. */
  developing: number
  /** Null where it was watched from its start. */
  entry: LifeEntry | null
  /** What each look said, by rising age, none before the entry or after the ending. */
  looks: readonly LifeLook[]
  ending: LifeEnding
  /**
   * Which learned factors multiply η: one way with share 1 where that is known; several, with shares that sum to 1,
   * where it is not (a mixture, as for a blank variant).
   */
  ways: readonly LifeWay[]
}

/** The age at which the watch began: not failed there; `sound` where it was found so, else unseen until then. */
export type LifeEntry = { age: number; sound: boolean }

/**
 * At `age` the developing mass is multiplied by `odds`: λ of the joint filter; 0 for found sound by opening,
 * Infinity for found developing without a renewal.
 */
export type LifeLook = { age: number; odds: number }

/** Shares of a mixture, and the indices of the learned factors (revisions, variants) that apply together. */
export type LifeWay = { share: number; factors: readonly number[] }

/**
 * How a life ended at `age`, and with it the likelihood's last factor (S sound, D developing, neither failed):
 *
 * - `failed`: the density D/δ; the hazard times S where δ = 0
 * - `failed-since`: failed unseen after `since`, discovered at `age`; looks after `since` are left out
 * - `developing`: opened and found so for a reason that is on record: D (S + D where δ = 0, and counted)
 * - `noticed`: opened and found so because of a sign that nobody recorded: ν·D
 * - `sound`: opened and found so: S
 * - `open`: renewed with nothing recorded, lost from sight, still running: S + D
 */
export type LifeEnding =
  | { kind: 'failed' | 'developing' | 'noticed' | 'sound'; age: number }
  /** `renewed`: and so it ended; else it runs on, or was lost from sight. The likelihood is the same. */
  | { kind: 'open'; age: number; renewed?: boolean }
  | { kind: 'failed-since'; age: number; since: number }

export type EndingKind = LifeEnding['kind']

/** The one way of a life whose factors are known. */
export const knownWay = (factors: readonly number[] = []): LifeWay[] => [{ share: 1, factors }]
