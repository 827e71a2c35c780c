import type {
  ChangeRow,
  CheckRow,
  CodeRow,
  ReadingRow,
  Records,
  RepairRow,
  VehicleRow,
} from '@/lib/records/rows'
import { type Column, columnsOf } from './columns'

/** What every row carries besides its own columns. */
const ORIGIN = { ref: 'text', enteredOn: 'day', notes: 'json', line: 'int' } as const

export const VEHICLE_COLUMNS: Column[] = columnsOf<VehicleRow>({
  vin: 'text',
  plate: 'text',
  site: 'text',
  status: 'text',
  leftOn: 'day',
  family: 'text',
  variant: 'text',
  builtOn: 'day',
  inServiceOn: 'day',
  watchedFromOn: 'day',
  watchedFromKm: 'float',
  history: 'text',
  duty: 'text',
  value: 'float',
  customer: 'text',
  contact: 'text',
  acquiredOn: 'day',
  acquiredFrom: 'text',
  purchasePrice: 'float',
  prepCost: 'float',
  askingPrice: 'float',
  soldOn: 'day',
  coverUntilOn: 'day',
  coverUntilKm: 'float',
  ...ORIGIN,
})

/** The kinds of record that hang on a vehicle; each is a list of `Records` and a table of the same name. */
export type RecordKind = Exclude<keyof Records, 'vehicles' | 'settings'>

export const RECORD_COLUMNS: Record<RecordKind, Column[]> = {
  readings: columnsOf<ReadingRow>({
    readOn: 'day',
    odometerKm: 'float',
    engineHours: 'float',
    source: 'text',
    ...ORIGIN,
  }),
  codes: columnsOf<CodeRow>({
    seenOn: 'day',
    odometerKm: 'float',
    code: 'text',
    state: 'text',
    lamp: 'bool',
    clearedOn: 'day',
    ...ORIGIN,
  }),
  checks: columnsOf<CheckRow>({
    checkedOn: 'day',
    odometerKm: 'float',
    kind: 'text',
    seen: 'json',
    lookedFor: 'json',
    kmSinceCleared: 'float',
    ...ORIGIN,
  }),
  repairs: columnsOf<RepairRow>({
    doneOn: 'day',
    odometerKm: 'float',
    weakPoint: 'text',
    positions: 'ints',
    action: 'text',
    revision: 'text',
    found: 'text',
    because: 'text',
    restored: 'float',
    partsCost: 'float',
    labourHours: 'float',
    paidBy: 'text',
    supplier: 'text',
    batch: 'text',
    note: 'text',
    ...ORIGIN,
  }),
  changes: columnsOf<ChangeRow>(
    { on: 'day', odometerKm: 'float', kind: 'text', engineKm: 'float', offsetKm: 'float', ...ORIGIN },
    { on: 'changed_on' },
  ),
}

export const RECORD_KINDS = Object.keys(RECORD_COLUMNS) as RecordKind[]
