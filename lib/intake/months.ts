import { formatDay } from '@/lib/units/dates'
import type { RecordLists, TableKind } from './tables'

type DatedKind = Exclude<TableKind, 'vehicles'>

const DAYS: { [Kind in DatedKind]: (row: RecordLists[Kind][number]) => number } = {
  readings: (row) => row.readOn,
  codes: (row) => row.seenOn,
  checks: (row) => row.checkedOn,
  repairs: (row) => row.doneOn,
  changes: (row) => row.on,
}

/** How many rows lie in each month (`2026-06`), the earliest first; months without rows are left out. */
export type RowsByMonth = [month: string, rows: number][]

/** Of rows that are there all together. */
export function rowsByMonth(records: RecordLists): RowsByMonth {
  const months = new Map<string, number>()
  countByMonth(records, months)
  return inOrder(months)
}

/** Adds rows to what was counted of those before them. */
export function countByMonth(records: RecordLists, months: Map<string, number>): void {
  const count = <Row>(rows: readonly Row[], dayOf: (row: Row) => number) => {
    for (const row of rows) {
      const month = formatDay(dayOf(row)).slice(0, 7)
      months.set(month, (months.get(month) ?? 0) + 1)
    }
  }
  count(records.readings, DAYS.readings)
  count(records.codes, DAYS.codes)
  count(records.checks, DAYS.checks)
  count(records.repairs, DAYS.repairs)
  count(records.changes, DAYS.changes)
}

/** What was counted, the earliest month first. */
export const inOrder = (months: ReadonlyMap<string, number>): RowsByMonth =>
  [...months].sort(([a], [b]) => (a < b ? -1 : 1))
