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
export function rowsByMonth(records: RecordLists): [month: string, rows: number][] {
  const months = new Map<string, number>()
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
  return [...months].sort(([a], [b]) => (a < b ? -1 : 1))
}
