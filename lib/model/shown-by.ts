/** Which cause showed a sign that was seen, once it is known how things went on (noisy-OR: Pearl 1988). */

/** What would be believed if the sign had not been looked for, and how likely it then was to be seen. */
export type Unseen = { developing: number[]; seen: number }

/** A sign with a cause is seen without any at least this often: what happened is never impossible. */
const LEAST_LEAK = 1e-9
const SAME = 1e-8
const MOST_PASSES = 200

/**
 * The chances of independent causes that, once the sign is seen, are those that are believed in the end: an iteration
 * that falls from the latter to its only solution.
 *
 * A cause showed the sign with chance detect·developing/seen, nothing did with leak/seen.
 *
 * @param detect P(shows it | develops), by cause
 * @param developing P(developed then | everything, the sighting too), by cause
 */
export function withoutSighting(
  detect: readonly number[],
  developing: readonly number[],
  leak: number,
): Unseen {
  const quiet = 1 - Math.max(leak, LEAST_LEAK)
  const q = developing.map((p) => Math.min(Math.max(p, 0), 1))
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    let moved = 0
    for (let i = 0; i < q.length; i++) {
      const p = developing[i]!
      if (!(p > 0 && p < 1)) continue
      const others = q.reduce((all, other, j) => (j === i ? all : all * (1 - detect[j]! * other)), quiet)
      const odds = ((p / (1 - p)) * (1 - others)) / (1 - (1 - detect[i]!) * others)
      const next = odds / (1 + odds)
      moved = Math.max(moved, Math.abs(next - q[i]!))
      q[i] = next
    }
    if (moved < SAME) break
  }
  const silent = q.reduce((all, p, i) => all * (1 - detect[i]! * p), quiet)
  return { developing: q, seen: 1 - silent }
}
