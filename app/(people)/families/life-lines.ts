import type { ObservedLife } from '@/lib/scoring/observed-life'
import type { NewPartLife, StatedChance } from '@/lib/scoring/stated-life'

/** A share of parts at an age, in the clock's unit. */
export type LinePoint = { at: number; value: number }

/**
 * What was counted, as a line of steps: the share of original parts that had failed or been found going. Where the
 * count begins later than at new, it begins on the line of the failed there.
 */
export function countedLine(observed: ObservedLife | undefined, life: NewPartLife): LinePoint[] {
  const steps = observed?.steps
  if (!steps) return []
  const before = chanceAt(life, steps.from)?.pFail ?? 0
  const points = steps.shares.map(([at, lasts]) => ({ at, value: 1 - (1 - before) * lasts }))
  const last = points.at(-1)?.value ?? before
  return [{ at: steps.from, value: before }, ...points, { at: steps.until, value: last }]
}

/** The line's value at an age; null where it does not reach. */
export function onLine(line: readonly LinePoint[], age: number): number | null {
  const [first, last] = [line[0], line.at(-1)]
  if (!first || !last || age < first.at || age > last.at) return null
  return line.findLast(({ at }) => at <= age)?.value ?? null
}

/** The chances at an age, straight between the points of the curve; null beyond its end. */
export function chanceAt(
  { curve }: NewPartLife,
  age: number,
): Pick<StatedChance, 'pFail' | 'pStarted'> | null {
  const next = curve.findIndex((point) => point.age >= age)
  const [above, below] = [curve[next], curve[next - 1]]
  if (!above || !below) return above ?? null
  const share = (age - below.age) / (above.age - below.age)
  const at = (of: (point: StatedChance) => number) => of(below) + (of(above) - of(below)) * share
  return { pFail: at(({ pFail }) => pFail), pStarted: at(({ pStarted }) => pStarted) }
}
