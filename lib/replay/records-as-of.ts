/** The records as they stood on a past day: nothing that was dated or written down later. */
import type { Records, VehicleRow } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'

type Undated = { unit: string; enteredOn: Day | null }

/** A row that no longer counts, and since when: it was corrected or withdrawn on that day. */
type Former<Row> = Row & { endedOn: Day }

/** The rows that counted once, by kind. */
export type FormerRows = {
  [Kind in Exclude<keyof Records, 'vehicles' | 'settings'>]: Former<Records[Kind][number]>[]
}

/** Records that can be rewound: those that count now, and where they were kept, those that did before. */
export type PastRecords = Records & { former?: FormerRows }

/**
 * Rewinds an organisation's records.
 *
 * Hidden is every row dated after the cut-off, or entered later; a vehicle that was not there yet; and what a row
 * that was there tells of later days: that a vehicle was sold or given up, that a code was cleared. A row that was
 * corrected or withdrawn later is there as it was. What a vehicle's row says of no day (a variant, a duty) and the
 * settings stand as they are known today.
 *
 * @param enteredBy last day of entry that counts; a row without one was entered on its own day
 */
export function recordsAsOf(records: PastRecords, cutOff: Day, enteredBy: Day = cutOff): Records {
  const known =
    <Row extends Undated>(dayOf: (row: Row) => Day) =>
    (row: Row): boolean =>
      dayOf(row) <= cutOff && (row.enteredOn ?? dayOf(row)) <= enteredBy
  const then = <Kind extends keyof FormerRows>(kind: Kind): Records[Kind][number][] => [
    ...records[kind],
    ...(records.former?.[kind] ?? []).filter(({ endedOn }) => endedOn > enteredBy),
  ]
  const visible = {
    readings: then('readings').filter(known((row) => row.readOn)),
    codes: then('codes')
      .filter(known((row) => row.seenOn))
      .map((row) => (isAfter(row.clearedOn, cutOff) ? { ...row, clearedOn: null } : row)),
    checks: then('checks').filter(known((row) => row.checkedOn)),
    repairs: then('repairs').filter(known((row) => row.doneOn)),
    changes: then('changes').filter(known((row) => row.on)),
  }
  const named = new Set(Object.values(visible).flatMap((rows) => rows.map(({ unit }) => unit)))
  const lastDays = lastDayByUnit(records)
  const vehicles = records.vehicles
    .filter((row) => (row.enteredOn ?? cutOff) <= enteredBy && wasThere(row, named, cutOff))
    .map((row) => vehicleAsOf(row, lastDays.get(row.unit) ?? null, cutOff))
  const units = new Set(vehicles.map(({ unit }) => unit))
  const ofThese = <Row extends Undated>(rows: Row[]) => rows.filter(({ unit }) => units.has(unit))
  return {
    vehicles,
    readings: ofThese(visible.readings),
    codes: ofThese(visible.codes),
    checks: ofThese(visible.checks),
    repairs: ofThese(visible.repairs),
    changes: ofThese(visible.changes),
    settings: records.settings,
  }
}

const isAfter = (day: Day | null, cutOff: Day): boolean => day !== null && day > cutOff

/** By the latest of its own dates; where it has none, by its first record. */
function wasThere(row: VehicleRow, named: ReadonlySet<string>, cutOff: Day): boolean {
  const dates = [row.builtOn, row.inServiceOn, row.watchedFromOn, row.acquiredOn].filter(
    (day) => day !== null,
  )
  return dates.length > 0 ? Math.max(...dates) <= cutOff : named.has(row.unit)
}

/** A vehicle that left later was still there: in stock where it had been bought to be sold. */
function vehicleAsOf(row: VehicleRow, lastOnRecord: Day | null, cutOff: Day): VehicleRow {
  if (row.status === 'active' || row.status === 'stock') return row
  if (!isAfter(row.soldOn ?? row.leftOn ?? lastOnRecord, cutOff)) return row
  const status = row.status === 'sold' && row.acquiredOn !== null ? 'stock' : 'active'
  return { ...row, status, soldOn: null, leftOn: null, coverUntilOn: null, coverUntilKm: null }
}

/** The last day on record of each vehicle that left without a date. */
function lastDayByUnit({ vehicles, readings, codes, checks, repairs, changes }: Records): Map<string, Day> {
  const wanted = new Set(
    vehicles
      .filter(({ status, soldOn, leftOn }) => status !== 'active' && status !== 'stock' && !soldOn && !leftOn)
      .map(({ unit }) => unit),
  )
  const last = new Map<string, Day>()
  const note = (unit: string, day: Day) => {
    if (wanted.has(unit)) last.set(unit, Math.max(day, last.get(unit) ?? day))
  }
  if (wanted.size === 0) return last
  for (const row of readings) note(row.unit, row.readOn)
  for (const row of codes) note(row.unit, row.seenOn)
  for (const row of checks) note(row.unit, row.checkedOn)
  for (const row of repairs) note(row.unit, row.doneOn)
  for (const row of changes) note(row.unit, row.on)
  return last
}
