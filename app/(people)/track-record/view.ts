import type { Count, TrackReport } from '@/lib/replay/track-report'
import { isOff } from '@/lib/replay/verdict'

export type SearchParameters = Record<string, string | string[] | undefined>

/** By what the weak points are sorted: farthest off, most found, most expected, or their names. */
export const SORTS = ['off', 'found', 'expected', 'name'] as const
export type Sort = (typeof SORTS)[number]

/** Which weak points are shown, in which order. */
export type WeakPointView = { sort: Sort; family: string | null; onlyOff: boolean }

export function weakPointView({ sort, family, only }: SearchParameters): WeakPointView {
  return {
    sort: SORTS.find((each) => each === sort) ?? 'off',
    family: typeof family === 'string' ? family : null,
    onlyOff: only === 'off',
  }
}

/** The address of a view; what stands at its default is left out. */
export function addressOf({ sort, family, onlyOff }: WeakPointView): string {
  const parameters = new URLSearchParams()
  if (sort !== 'off') parameters.set('sort', sort)
  if (family !== null) parameters.set('family', family)
  if (onlyOff) parameters.set('only', 'off')
  const text = parameters.toString()
  return `/track-record${text && `?${text}`}#weak-points`
}

export type WeakPointRow = TrackReport['weakPoints'][number] & { name: string; familyName: string }

/** The rows of a view. */
export function inView(rows: WeakPointRow[], { sort, family, onlyOff }: WeakPointView): WeakPointRow[] {
  return rows
    .filter((row) => family === null || row.family === family)
    .filter((row) => !onlyOff || isOff(row.standing))
    .sort(ORDER[sort])
}

type Order = (a: WeakPointRow, b: WeakPointRow) => number
const byName: Order = (a, b) => a.name.localeCompare(b.name) || a.familyName.localeCompare(b.familyName)
const largestFirst =
  (of: (row: Count) => number): Order =>
  (a, b) =>
    of(b) - of(a) || byName(a, b)

const ORDER: Record<Sort, Order> = {
  off: largestFirst(({ distance }) => distance),
  found: largestFirst(({ found }) => found),
  expected: largestFirst(({ expected }) => expected),
  name: byName,
}
