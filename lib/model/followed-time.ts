/** A time that was followed, all in one unit: nothing had happened by `entry`, and it happened in (`after`, `by`]. */
export interface FollowedTime {
  /** Followed only because nothing had happened by then (left truncation); 0 where it was followed from new. */
  entry: number
  /** Had not happened by then. */
  after: number
  /** Had happened by then; as `after` where the moment is known, Infinity where following ended before. */
  by: number
}
