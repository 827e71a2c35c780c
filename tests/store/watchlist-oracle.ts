import { ADVICE } from '@/lib/decisions/advice'
import type { WatchlistRow } from '@/lib/store/read/watchlist'
import {
  ODOMETER_OLD_DAYS,
  type SortKey,
  type WatchlistColumn,
  type WatchlistMark,
  type WatchlistQuery,
} from '@/lib/store/read/watchlist-query'
import { STANDINGS } from '@/lib/store/standing'

/** A row with what the oracle needs to know of it besides. */
export type OracleRow = WatchlistRow & { familyKey: string; weakPointKey: string | null }

type Value = string | number | null

/** B-2 before B-10: every number in it is compared as a number. */
const numberKey = (unit: string) =>
  unit.replace(/[0-9]+|[^0-9]+/g, (part) =>
    /^[0-9]/.test(part) ? part.padStart(20, '0') : part.toLowerCase(),
  )
const lower = (text: string | null) => text?.toLowerCase() ?? null
const urgency = (row: WatchlistRow) => STANDINGS.indexOf(row.standing)

const VALUES: Record<WatchlistColumn, (row: OracleRow) => Value[]> = {
  unit: (row) => [numberKey(row.unit)],
  customer: (row) => [lower(row.customer)],
  contact: (row) => [lower(row.contact)],
  advice: (row) => [urgency(row)],
  weakPoint: (row) => [lower(row.weakPoint), row.position],
  chance: (row) => [row.pFail],
  speaks: (row) => [lower(row.speaks)],
  changed: (row) => [row.changed === null ? null : ['stop', 'advice', 'risen'].indexOf(row.changed.kind)],
  next: (row) => [urgency(row)],
  waiting: (row) => [row.costOfWaiting],
  combined: (row) => [row.combined],
  engine: (row) => [lower(row.family)],
  site: (row) => [lower(row.site ?? row.customer)],
  status: (row) => [row.status],
  history: (row) => [row.history],
  value: (row) => [row.value],
  asking: (row) => [row.askingPrice],
  inStock: (row) => [row.daysInStock],
  aside: (row) => [row.aside?.amount ?? null],
  odometer: (row) => [row.odometerKm],
  // Never scanned is longest ago.
  scan: (row) => [row.lastFullScanOn === null ? Number.POSITIVE_INFINITY : row.asOf - row.lastFullScanOn],
}

/** Unknown last, whatever the direction. */
function compare(a: Value, b: Value, descending: boolean): number {
  if (a === b) return 0
  if (a === null || b === null) return a === null ? 1 : -1
  return (a < b ? -1 : 1) * (descending ? -1 : 1)
}

function inOrder(sort: SortKey[]) {
  const ties: ((row: OracleRow) => Value)[] = [
    (row) => numberKey(row.unit),
    (row) => row.unit,
    (row) => row.weakPointKey,
    (row) => row.position,
  ]
  return (a: OracleRow, b: OracleRow) => {
    for (const { column, descending } of sort)
      for (const [i, value] of VALUES[column](a).entries()) {
        const order = compare(value, VALUES[column](b)[i] ?? null, descending)
        if (order !== 0) return order
      }
    return ties.map((tie) => compare(tie(a), tie(b), false)).find((order) => order !== 0) ?? 0
  }
}

const MARKS: Record<WatchlistMark, (row: OracleRow) => boolean> = {
  'history-unknown': (row) => row.history === 'none',
  'never-looked-at': (row) => row.lastLookedAtOn === null,
  'never-scanned': (row) => row.lastFullScanOn === null,
  'odometer-old': (row) => row.odometerReadOn === null || row.asOf - row.odometerReadOn > ODOMETER_OLD_DAYS,
  'worth-it-now': (row) => (row.costOfWaiting ?? 0) > 0,
}

function holds(row: OracleRow, query: WatchlistQuery): boolean {
  const among = (list: readonly string[], value: string | null) =>
    list.length === 0 || (value !== null && list.includes(value))
  const said = [row.unit, row.plate, row.site, row.customer, row.family, row.weakPoint, row.speaks]
    .filter((each) => each !== null)
    .join(' ')
    .toLowerCase()
  return (
    among(query.standings, row.standing) &&
    among(query.units, row.unit) &&
    among(query.families, row.familyKey) &&
    among(query.sites, row.site) &&
    among(query.customers, row.customer) &&
    among(query.weakPoints, row.weakPoint) &&
    among(query.statuses, row.status) &&
    query.marks.every((mark) => MARKS[mark](row)) &&
    (query.changes.length === 0 || (row.changed !== null && query.changes.includes(row.changed.kind))) &&
    query.search
      .toLowerCase()
      .split(/\s+/)
      .every((word) => said.includes(word))
  )
}

/** What a query must answer, from all rows, by looking at each. */
export function watchlistByHand(rows: OracleRow[], query: WatchlistQuery): OracleRow[] {
  return rows.filter((row) => holds(row, query)).toSorted(inOrder(query.sort))
}

/** A vehicle's row from its weak points' rows: the most urgent leads, then the likeliest. */
export function leadingOf<Row extends { advice: (typeof ADVICE)[number]; pFail: number }>(
  components: Row[],
): Row | undefined {
  return components.toSorted(
    (a, b) => ADVICE.indexOf(a.advice) - ADVICE.indexOf(b.advice) || b.pFail - a.pFail,
  )[0]
}
