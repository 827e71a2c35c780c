import type { TypedDistance } from '@/lib/records/typed-distance'
import type { Day } from '@/lib/units/dates'
import type { EntryGround, GivenObjects, Slip } from './form-ground'
import { readTables } from './read-tables'
import { noRecords, type RecordLists, TABLE_KINDS } from './tables'
import { type EntryKind, readTypedForm } from './typed-form'

/** Records as they may go in, with the odometer as it was typed, to be said back; or what has to be mended. */
export type TypedEntry =
  | { ok: true; records: RecordLists; day: Day; odometer: TypedDistance | null }
  | { ok: false; slips: Slip[] }

/** Reads a form's fields as records; rows of a form pass the same checks as rows of a file. */
export function readTypedEntry(
  kind: EntryKind,
  typed: Readonly<Record<string, string>>,
  ground: EntryGround,
): TypedEntry {
  const form = readTypedForm(kind, typed, ground)
  if (!form.ok) return form
  const { records, slips } = asRecords(form.given, ground)
  if (slips.length > 0) return { ok: false, slips }
  return { ok: true, records, day: form.day, odometer: form.odometer }
}

/** Where a form has one field for a column that has another name in each file. */
const FIELD_OF: Record<string, string> = {
  read_on: 'on',
  seen_on: 'on',
  checked_on: 'on',
  done_on: 'on',
  odometer_km: 'odometer',
  code: 'codes',
  seen: 'look',
  looked_for: 'look',
  positions: 'position',
}

/** Rows through the checks that rows of files pass. */
export function asRecords(
  given: GivenObjects,
  { unit, family, today }: Pick<EntryGround, 'unit' | 'family' | 'today'>,
): { records: RecordLists; slips: Slip[] } {
  const tables = TABLE_KINDS.flatMap((kind) => {
    const objects = given[kind] ?? []
    return objects.length > 0 ? [{ name: kind, kind, objects }] : []
  })
  const families = family === null ? [] : [family]
  const standing = given.vehicles ? [] : [{ unit, family: family?.key ?? '' }]
  const read = readTables(tables, { library: { families }, today, standing })
  const records = Object.assign(noRecords(), ...read.map(({ kind, records }) => ({ [kind]: records[kind] })))
  const slips = read.flatMap(({ rejected }) =>
    rejected.map(({ column, reason }) => ({ field: FIELD_OF[column] ?? column, message: reason })),
  )
  return { records, slips }
}
