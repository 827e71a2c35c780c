import { type RankedVisits, rankVisits, savedAnHour, type VisitToRank } from '@/lib/decisions/rank-visits'
import type { FleetVisits, VisitOf } from '@/lib/jobs/fleet-visits'
import type { VisitSort, VisitsAsked } from './visits-asked'

export type VisitRow = VisitOf & VisitToRank & { perHour: number | null; fits: boolean }

export type VisitsView = {
  ranked: RankedVisits<VisitRow>
  rows: VisitRow[]
  /** Before which row the hours run out; null where no line is drawn: no hours, or another order. */
  lineBefore: number | null
  sites: string[]
}

/** The visits that are asked for, in the order that is asked for, and where the hours run out. */
export function visitsView({ visits }: Pick<FleetVisits, 'visits'>, asked: VisitsAsked): VisitsView {
  const { site, hours, sort } = asked
  const shown = visits
    .filter((visit) => site === null || visit.site === site)
    .map((visit) => ({
      ...{ ...visit, perHour: savedAnHour(visit), fits: false },
      stop: visit.jobs.some(({ stop }) => stop),
    }))
  const ranked = rankVisits(shown, { by: sort.column === 'saving' ? 'saving' : 'bay-hour', hours })
  for (const row of ranked.above) row.fits = hours !== null
  const isRanked = sort.descending && (sort.column === 'perHour' || sort.column === 'saving')
  const all = [...ranked.above, ...ranked.below]
  return {
    ranked,
    rows: isRanked ? all : sorted(all, sort),
    lineBefore: isRanked && hours !== null ? ranked.above.length : null,
    sites: [...new Set(visits.flatMap(({ site }) => site ?? []))].sort((a, b) => a.localeCompare(b)),
  }
}

/** A row without a value comes last, whichever way it goes. */
function sorted(rows: VisitRow[], { column, descending }: VisitsAsked['sort']): VisitRow[] {
  const side = descending ? -1 : 1
  return [...rows].sort((a, b) => {
    const [one, other] = [told(a, column), told(b, column)]
    if (one === null || other === null) return Number(one === null) - Number(other === null)
    return (
      side * (typeof one === 'number' ? one - Number(other) : one.localeCompare(String(other), 'en', NATURAL))
    )
  })
}

const NATURAL = { numeric: true }

const told = (row: VisitRow, column: VisitSort): number | string | null => row[column]
