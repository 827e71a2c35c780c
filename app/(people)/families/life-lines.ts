import type { ObservedLife } from '@/lib/scoring/observed-life'
import type { NewPartLife, StatedChance } from '@/lib/scoring/stated-life'

/** A share of parts at an age, in the clock's unit; counted, with its standard error. */
export type LinePoint = { at: number; value: number; error: number }

/**
 * What was counted, as a line of steps: the share of original parts that had failed or been found going. Where the
 * count begins later than at new, it begins on the line of the failed there.
 */
export function countedLine(observed: ObservedLife | undefined, life: NewPartLife): LinePoint[] {
  const steps = observed?.steps
  if (!steps) return []
  const before = chanceAt(life, steps.from)?.pFail ?? 0
  const points = steps.shares.map(([at, lasts, error]) => ({
    at,
    value: 1 - (1 - before) * lasts,
    error: (1 - before) * error,
  }))
  const first = { at: steps.from, value: before, error: 0 }
  return [first, ...points, { ...(points.at(-1) ?? first), at: steps.until }]
}

/** The line at an age; null where it does not reach. */
export function onLine(line: readonly LinePoint[], age: number): LinePoint | null {
  const [first, last] = [line[0], line.at(-1)]
  if (!first || !last || age < first.at || age > last.at) return null
  return line.findLast(({ at }) => at <= age) ?? null
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
