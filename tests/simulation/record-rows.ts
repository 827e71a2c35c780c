/** Rows of records as a person would hand them in: what is not said is unknown. */
import type {
  ChangeRow,
  CheckRow,
  CodeRow,
  ReadingRow,
  Records,
  RepairRow,
  VehicleRow,
} from '@/lib/records/rows'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'

type Wanting<Row, Key extends keyof Row> = Partial<Row> & Pick<Row, Key>

const common = { ref: null, enteredOn: null, notes: {}, line: 0 }

export const vehicleRow = (row: Wanting<VehicleRow, 'unit' | 'family'>): VehicleRow => ({
  ...common,
  vin: null,
  plate: null,
  site: null,
  status: 'active',
  leftOn: null,
  variant: null,
  builtOn: null,
  inServiceOn: null,
  watchedFromOn: null,
  watchedFromKm: null,
  history: 'full',
  duty: 'mixed',
  value: null,
  customer: null,
  contact: null,
  acquiredOn: null,
  acquiredFrom: null,
  purchasePrice: null,
  prepCost: null,
  askingPrice: null,
  soldOn: null,
  coverUntilOn: null,
  coverUntilKm: null,
  ...row,
})

export const readingRow = (row: Wanting<ReadingRow, 'unit' | 'readOn' | 'odometerKm'>): ReadingRow => ({
  ...common,
  engineHours: null,
  source: null,
  ...row,
})

export const codeRow = (row: Wanting<CodeRow, 'unit' | 'seenOn' | 'code'>): CodeRow => ({
  ...common,
  odometerKm: null,
  state: 'stored',
  lamp: null,
  clearedOn: null,
  ...row,
})

export const checkRow = (row: Wanting<CheckRow, 'unit' | 'checkedOn' | 'kind'>): CheckRow => ({
  ...common,
  odometerKm: null,
  seen: [],
  lookedFor: null,
  kmSinceCleared: null,
  ...row,
})

export const repairRow = (row: Wanting<RepairRow, 'unit' | 'doneOn' | 'weakPoint'>): RepairRow => ({
  ...common,
  odometerKm: null,
  positions: [1],
  action: 'renew',
  revision: null,
  found: null,
  because: null,
  restored: null,
  partsCost: null,
  labourHours: null,
  paidBy: null,
  supplier: null,
  batch: null,
  note: null,
  ...row,
})

export const changeRow = (row: Wanting<ChangeRow, 'unit' | 'on' | 'kind'>): ChangeRow => ({
  ...common,
  odometerKm: null,
  engineKm: null,
  offsetKm: null,
  ...row,
})

export function recordsOf(lists: Partial<Records>): Records {
  const empty = { vehicles: [], readings: [], codes: [], checks: [], repairs: [], changes: [] }
  return { ...empty, settings: DEFAULT_SETTINGS, ...lists }
}
