import type { Family } from '@/lib/records/library'
import type { TypedDistance } from '@/lib/records/typed-distance'
import { type Day, parseDay } from '@/lib/units/dates'
import type { EntryGround, GivenObjects, Occasion, Slip } from './form-ground'
import { TypedFields } from './inner/typed-fields'
import { typedCodes, typedLook, typedReport } from './inner/typed-looks'
import { typedRepair } from './inner/typed-repair'

/** The short forms by which a person enters what happened to one vehicle. */
export const ENTRY_KINDS = ['reading', 'codes', 'look', 'report', 'repair', 'change'] as const
export type EntryKind = (typeof ENTRY_KINDS)[number]

/** What a form says, as rows that have passed no check yet; or what has to be mended before. */
export type TypedForm =
  | { ok: true; given: GivenObjects; day: Day; odometer: TypedDistance | null }
  | { ok: false; slips: Slip[] }

/** Reads the fields of a form. It needs nothing but what it is given, so that a phone without reception can do it. */
export function readTypedForm(
  kind: EntryKind,
  typed: Readonly<Record<string, string>>,
  ground: EntryGround,
): TypedForm {
  const fields = new TypedFields(typed, ground)
  const odometer = fields.distance('odometer')
  const occasion: Occasion = { unit: ground.unit, on: fields.day('on'), odometer_km: odometer?.km ?? '' }
  const given = FORMS[kind](fields, occasion, ground.family)
  if (fields.slips.length > 0) return { ok: false, slips: fields.slips }
  return { ok: true, given, day: parseDay(occasion.on) ?? ground.today, odometer }
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
