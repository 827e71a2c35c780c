/**
 * Rows of the data folder as the simulation writes them down: the column names of the format, days counted
 * from the last day of the records (0; earlier days are negative) until `csv.ts` turns them into dates.
 */
export type VehicleLine = {
  unit: string
  vin: string | null
  plate: string | null
  site: string | null
  status: 'active' | 'stock' | 'sold' | 'retired'
  left_on: number | null
  family: string
  variant: string | null
  built_on: number
  in_service_on: number
  watched_from_on: number | null
  watched_from_km: number | null
  history: 'full' | 'none' | null
  duty: Duty
  value: number
  customer: string | null
  contact: string | null
  acquired_on: number | null
  acquired_from: string | null
  purchase_price: number | null
  prep_cost: number | null
  asking_price: number | null
  sold_on: number | null
  cover_until_on: number | null
  cover_until_km: number | null
}

export type Duty = 'short' | 'mixed' | 'long'

export type ReadingLine = {
  unit: string
  read_on: number
  odometer_km: number
  engine_hours: number | null
  source: string
}

export type CodeLine = {
  unit: string
  seen_on: number
  odometer_km: number | null
  code: string
  state: 'stored' | 'pending' | 'permanent'
  lamp: 'yes' | 'no'
  cleared_on: number | null
}

export type CheckLine = {
  unit: string
  checked_on: number
  odometer_km: number | null
  kind: 'scan' | 'visual' | 'road' | 'measure' | 'lamp' | 'report'
  seen: string
  looked_for: string
  km_since_cleared: number | null
}

export type RepairLine = {
  ref: string
  unit: string
  done_on: number
  entered_on: number | null
  odometer_km: number | null
  weak_point: string
  positions: string
  action: 'renew' | 'partial' | 'temporary' | 'inspect'
  revision: string | null
  found: 'failed' | 'developing' | 'sound' | null
  because: 'failure' | 'sign' | 'schedule' | 'together' | 'campaign' | null
  restored: number | null
  parts_cost: number | null
  labour_hours: number | null
  paid_by: string | null
  supplier: string | null
  batch: string | null
  note: string | null
}

export type ChangeLine = {
  unit: string
  on: number
  odometer_km: number | null
  kind: 'engine-new' | 'engine-used' | 'engine-rebuilt' | 'owner' | 'cluster' | 'gap-from' | 'gap-to'
  engine_km: number | null
  offset_km: number | null
}

/** Everything written down about one vehicle. */
export type Logbook = {
  readings: ReadingLine[]
  codes: CodeLine[]
  checks: CheckLine[]
  repairs: RepairLine[]
  changes: ChangeLine[]
}

export const emptyLogbook = (): Logbook => ({ readings: [], codes: [], checks: [], repairs: [], changes: [] })
