import { expect, test } from 'vitest'
import { type Records, readingColumns, vehicleColumns } from '@/lib/records/rows'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { groupByVehicle } from '@/lib/records/vehicle-records'

const vehicle = (unit: string): Records['vehicles'][number] => ({
  ...emptyVehicle,
  unit,
})
const emptyVehicle: Records['vehicles'][number] = {
  unit: '',
  vin: null,
  plate: null,
  site: null,
  status: 'active',
  leftOn: null,
  family: 'plover-22',
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
  ref: null,
  enteredOn: null,
  notes: {},
  line: 2,
}
const reading = (unit: string, readOn: number, line: number): Records['readings'][number] => ({
  unit,
  readOn,
  odometerKm: 1000 * line,
  engineHours: null,
  source: null,
  ref: null,
  enteredOn: null,
  notes: {},
  line,
})

test('each vehicle gets its own records by day, and within a day in file order', () => {
  const records: Records = {
    vehicles: [vehicle('b'), vehicle('a'), vehicle('without records')],
    readings: [
      reading('a', 20, 2),
      reading('b', 7, 3),
      reading('a', 10, 4),
      reading('a', 20, 5),
      reading('gone', 1, 6),
    ],
    codes: [],
    checks: [],
    repairs: [],
    changes: [],
    settings: DEFAULT_SETTINGS,
  }
  const grouped = groupByVehicle(records)
  expect(grouped.map((each) => each.vehicle.unit)).toEqual(['b', 'a', 'without records'])
  expect(grouped.map((each) => each.readings.map((row) => row.line))).toEqual([[3], [4, 2, 5], []])
})

test('a row with blank cells is read with null for what was not said', () => {
  const row = vehicleColumns.parse({ unit: ' 7 ', family: 'plover-22', vin: '1m8gdm9axkp042788' })
  expect(row).toMatchObject({
    unit: '7',
    vin: '1M8GDM9AXKP042788',
    status: null,
    duty: null,
    value: null,
    history: null,
  })
})

test('a row names every column that it was refused for', () => {
  const result = readingColumns.safeParse({ unit: '7', read_on: '30.6.2026', odometer_km: '-5' })
  expect(result.error?.issues.map((issue) => issue.path[0])).toEqual(['read_on', 'odometer_km'])
})
