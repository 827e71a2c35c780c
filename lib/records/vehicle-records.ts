import type { Day } from '@/lib/units/dates'
import type { ChangeRow, CheckRow, CodeRow, ReadingRow, Records, RepairRow, VehicleRow } from './rows'

/** Everything on record about one vehicle; each list by day, and within a day in file order. */
export interface VehicleRecords {
  vehicle: VehicleRow
  readings: ReadingRow[]
  codes: CodeRow[]
  checks: CheckRow[]
  repairs: RepairRow[]
  changes: ChangeRow[]
}

/** One record of a vehicle, and of which kind it is. */
export type OneRecord =
  | { kind: 'readings'; row: ReadingRow }
  | { kind: 'codes'; row: CodeRow }
  | { kind: 'checks'; row: CheckRow }
  | { kind: 'repairs'; row: RepairRow }
  | { kind: 'changes'; row: ChangeRow }

/** A vehicle's records one by one, each kind in its order. */
export function listRecords({ readings, codes, checks, repairs, changes }: VehicleRecords): OneRecord[] {
  return [
    ...readings.map((row) => ({ kind: 'readings' as const, row })),
    ...codes.map((row) => ({ kind: 'codes' as const, row })),
    ...checks.map((row) => ({ kind: 'checks' as const, row })),
    ...repairs.map((row) => ({ kind: 'repairs' as const, row })),
    ...changes.map((row) => ({ kind: 'changes' as const, row })),
  ]
}

/** The day that a record is about. */
export function dayOfRecord(record: OneRecord): Day {
  switch (record.kind) {
    case 'readings':
      return record.row.readOn
    case 'codes':
      return record.row.seenOn
    case 'checks':
      return record.row.checkedOn
    case 'repairs':
      return record.row.doneOn
    case 'changes':
      return record.row.on
  }
}

/** Sorts the records of an organisation into its vehicles, in the order of vehicles.csv. O(n log n). */
export function groupByVehicle(records: Omit<Records, 'settings'>): VehicleRecords[] {
  const readings = byUnit(records.readings, (row) => row.readOn)
  const codes = byUnit(records.codes, (row) => row.seenOn)
  const checks = byUnit(records.checks, (row) => row.checkedOn)
  const repairs = byUnit(records.repairs, (row) => row.doneOn)
  const changes = byUnit(records.changes, (row) => row.on)
  return records.vehicles.map((vehicle) => ({
    vehicle,
    readings: readings.get(vehicle.unit) ?? [],
    codes: codes.get(vehicle.unit) ?? [],
    checks: checks.get(vehicle.unit) ?? [],
    repairs: repairs.get(vehicle.unit) ?? [],
    changes: changes.get(vehicle.unit) ?? [],
  }))
}

function byUnit<Row extends { unit: string }>(rows: Row[], dayOf: (row: Row) => Day): Map<string, Row[]> {
  const groups = new Map<string, Row[]>()
  for (const row of rows) {
    const group = groups.get(row.unit)
    if (group) group.push(row)
    else groups.set(row.unit, [row])
  }
  for (const group of groups.values()) group.sort((a, b) => dayOf(a) - dayOf(b))
  return groups
}
