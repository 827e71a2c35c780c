import type { Family } from '@/lib/records/library'
import { type Day, formatDay } from '@/lib/units/dates'
import type { Slip } from './form-ground'
import { TypedFields } from './inner/typed-fields'
import { readTables } from './read-tables'
import { noRecords, type RecordLists } from './tables'

type Ground = { families: Family[]; today: Day; distance: 'km' | 'mi' }

/**
 * Reads the form of a new vehicle: the vehicle, watched from today and this odometer on, and its first reading. Where
 * all of the time before is known it is as if watched from new.
 */
export function readTypedVehicle(
  typed: Readonly<Record<string, string>>,
  { families, today, distance }: Ground,
): { ok: true; records: RecordLists } | { ok: false; slips: Slip[] } {
  const fields = new TypedFields(typed, { today, distance })
  const unit = fields.text('unit')
  if (unit === '') fields.slip('unit', 'Write its number: without one it cannot be found again')
  const odometer = fields.distance('odometer')
  const history = fields.text('history') === 'full' ? 'full' : 'none'
  const first =
    history === 'full' ? {} : { watched_from_on: formatDay(today), watched_from_km: odometer?.km ?? '' }
  const vehicle = { unit, plate: fields.text('plate'), family: fields.text('family'), history, ...first }
  const reading = { unit, read_on: formatDay(today), odometer_km: odometer?.km }
  if (fields.slips.length > 0) return { ok: false, slips: fields.slips }
  const read = readTables(
    [
      { name: 'vehicles', kind: 'vehicles', objects: [vehicle] },
      { name: 'readings', kind: 'readings', objects: odometer === null ? [] : [reading] },
    ],
    { library: { families }, today },
  )
  const slips = read.flatMap(({ rejected }) =>
    rejected.map(({ column, reason }) => ({ field: column, message: reason })),
  )
  if (slips.length > 0) return { ok: false, slips }
  return {
    ok: true,
    records: Object.assign(noRecords(), ...read.map(({ kind, records }) => ({ [kind]: records[kind] }))),
  }
}
