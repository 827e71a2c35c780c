import { readTypedNumber } from '@/lib/records/typed-number'

export const VISIT_SORTS = ['perHour', 'saving', 'hours', 'price', 'unit', 'site'] as const
export type VisitSort = (typeof VISIT_SORTS)[number]

export type VisitsAsked = {
  /** The hours that there are; null: nobody has said. */
  hours: number | null
  /** What could not be read, in a sentence. */
  unread: string | null
  site: string | null
  sort: { column: VisitSort; descending: boolean }
}

const MOST_HOURS = 100_000
const USUAL: VisitsAsked['sort'] = { column: 'perHour', descending: true }

/**
 * What an address of the visits asks for.
 *
 * @param usualHours where it says none: those of the bays; null where nobody has said how many those are
 */
export function visitsAsked(
  parameters: Record<string, string | string[] | undefined>,
  usualHours: number | null,
): VisitsAsked {
  const typed = (name: string) => [parameters[name] ?? []].flat()[0]?.trim() ?? ''
  const said = typed('hours')
  const read = said === '' ? usualHours : readTypedNumber(said)
  const hours = read !== null && read >= 0 && read <= MOST_HOURS ? read : null
  return {
    hours,
    unread: said !== '' && hours === null ? `“${said}” is not a number of hours, so no line is drawn.` : null,
    site: typed('site') || null,
    sort: sortIn(typed('sort')),
  }
}

function sortIn(typed: string): VisitsAsked['sort'] {
  const column = VISIT_SORTS.find((each) => each === typed.replace(/^-/, ''))
  return column ? { column, descending: typed.startsWith('-') } : USUAL
}

/** The parameters of what is asked, without what holds anyway. */
export function visitsParameters(
  { hours, site, sort }: VisitsAsked,
  usualHours: number | null,
): URLSearchParams {
  const isUsual = sort.column === USUAL.column && sort.descending === USUAL.descending
  return new URLSearchParams([
    ...(hours === null || hours === usualHours ? [] : [['hours', String(hours)]]),
    ...(site === null ? [] : [['site', site]]),
    ...(isUsual ? [] : [['sort', `${sort.descending ? '-' : ''}${sort.column}`]]),
  ])
}

/** Sorted by this column; a second time the other way round. Numbers begin with the largest. */
export function sortedBy(asked: VisitsAsked, column: VisitSort): VisitsAsked {
  const isName = column === 'unit' || column === 'site'
  const descending = asked.sort.column === column ? !asked.sort.descending : !isName
  return { ...asked, sort: { column, descending } }
}
