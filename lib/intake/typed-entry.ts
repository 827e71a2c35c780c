import type { Family } from '@/lib/records/library'
import type { TypedDistance } from '@/lib/records/typed-distance'
import { type Day, parseDay } from '@/lib/units/dates'
import type { EntryGround, GivenObjects, Occasion, Slip } from './form-ground'
import { TypedFields } from './inner/typed-fields'
import { typedCodes, typedLook, typedReport } from './inner/typed-looks'
import { typedRepair } from './inner/typed-repair'
import { readTables } from './read-tables'
import { noRecords, type RecordLists, TABLE_KINDS } from './tables'

/** The short forms by which a person enters what happened to one vehicle. */
export const ENTRY_KINDS = ['reading', 'codes', 'look', 'report', 'repair', 'change'] as const
export type EntryKind = (typeof ENTRY_KINDS)[number]

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
  const fields = new TypedFields(typed, ground)
  const odometer = fields.distance('odometer')
  const occasion: Occasion = { unit: ground.unit, on: fields.day('on'), odometer_km: odometer?.km ?? '' }
  const given = FORMS[kind](fields, occasion, ground.family)
  if (fields.slips.length > 0) return { ok: false, slips: fields.slips }
  const { records, slips } = asRecords(given, ground)
  if (slips.length > 0) return { ok: false, slips }
  return { ok: true, records, day: parseDay(occasion.on) ?? ground.today, odometer }
}

type Form = (fields: TypedFields, occasion: Occasion, family: Family | null) => GivenObjects

const FORMS: Record<EntryKind, Form> = {
  reading: typedReading,
  codes: typedCodes,
  look: typedLook,
  report: typedReport,
  repair: typedRepair,
  change: typedChange,
}

function typedReading(fields: TypedFields, { on, ...place }: Occasion): GivenObjects {
  if (fields.text('odometer') === '') fields.slip('odometer', 'Write what the odometer says')
  return { readings: [{ ...place, read_on: on, engine_hours: fields.number('engine_hours') ?? '' }] }
}

function typedChange(fields: TypedFields, occasion: Occasion): GivenObjects {
  const kind = fields.text('kind')
  if (kind === '') fields.slip('kind', 'Say what was changed')
  const [engine, offset] = [fields.distance('engine_km'), fields.distance('offset_km')]
  if (engine !== null && kind !== 'engine-used')
    fields.slip('engine_km', 'Only a used engine has run already: choose it above, or leave this blank')
  if (offset !== null && kind !== 'cluster')
    fields.slip('offset_km', 'This belongs to a new instrument: choose it above, or leave this blank')
  return {
    changes: [{ ...occasion, kind, engine_km: engine?.km ?? '', offset_km: offset?.km ?? '' }],
  }
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
