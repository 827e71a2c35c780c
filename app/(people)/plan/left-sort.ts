import type { LeftJob } from '@/lib/decisions/plan-left'
import { WHY_LEFT } from './plan-words'

/** The columns by which what is left over is sorted. */
const LEFT_COLUMNS = ['unit', 'why', 'hours', 'gain'] as const
export type LeftColumn = (typeof LEFT_COLUMNS)[number]
export type LeftSort = { column: LeftColumn; descending: boolean }

const USUAL: LeftSort = { column: 'gain', descending: true }

/** The order that an address of the plan asks for; what it does not understand is the usual. */
export function leftSortIn(parameters: Record<string, string | string[] | undefined>): LeftSort {
  const asked = [parameters.left ?? []].flat()[0] ?? ''
  const column = LEFT_COLUMNS.find((each) => each === asked.replace(/^-/, ''))
  return column ? { column, descending: asked.startsWith('-') } : USUAL
}

/** What a press on a heading leads to: hours and money begin with the most, then the other way round. */
export function sortedBy(column: LeftColumn, now: LeftSort): LeftSort {
  const isNumber = column === 'hours' || column === 'gain'
  return { column, descending: now.column === column ? !now.descending : isNumber }
}

export const leftAddress = ({ column, descending }: LeftSort, page = '/plan'): string =>
  `${page}?left=${descending ? '-' : ''}${column}`

/** Sorted; what is equal stands by the vehicle's number. @param hoursOf of a job */
export function sortLeft(
  left: readonly LeftJob[],
  { column, descending }: LeftSort,
  hoursOf: (job: string) => number,
): LeftJob[] {
  const { compare } = new Intl.Collator('en', { numeric: true })
  const order: Record<LeftColumn, (a: LeftJob, b: LeftJob) => number> = {
    unit: (a, b) => compare(a.unit, b.unit),
    why: (a, b) => compare(WHY_LEFT[a.why], WHY_LEFT[b.why]),
    hours: (a, b) => hoursOf(a.job) - hoursOf(b.job),
    gain: (a, b) => a.gain - b.gain,
  }
  const way = descending ? -1 : 1
  return [...left].sort((a, b) => way * order[column](a, b) || compare(a.unit, b.unit))
}
