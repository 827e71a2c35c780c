import type { ReadingRow, VehicleRow } from '@/lib/records/rows'
import type { VehicleRecords } from '@/lib/records/vehicle-records'

/** A vehicle of which nothing is known but its number, class and the given fields. */
export function vehicleRow(fields: Partial<VehicleRow> = {}): VehicleRow {
  return {
    unit: 'V1',
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
    ...fields,
  }
}

export function readingRow(readOn: number, odometerKm: number, fields: Partial<ReadingRow> = {}): ReadingRow {
  const blank = { engineHours: null, source: null, ref: null, enteredOn: null, notes: {}, line: 2 }
  return { unit: 'V1', readOn, odometerKm, ...blank, ...fields }
}

/** A vehicle's records: readings as [day, km], and whatever else is given. */
export function recordsOf(
  readings: readonly (readonly [day: number, km: number])[],
  rest: Partial<Omit<VehicleRecords, 'vehicle'>> & { vehicle?: Partial<VehicleRow> } = {},
): VehicleRecords {
  const rows = readings.map(([day, km], i) => readingRow(day, km, { line: i + 2 }))
  const none = { codes: [], checks: [], repairs: [], changes: [] }
  return { ...none, readings: rows, ...rest, vehicle: vehicleRow(rest.vehicle) }
}

/** Uniform and normal numbers from a fixed seed (mulberry32; Box–Muller), so that every run draws the same. */
export function randomFrom(seed: number): { uniform(): number; normal(): number } {
  let state = seed
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform())
  return { uniform, normal }
}
