import { z } from 'zod'
import type { Family } from '@/lib/records/library'
import { type ChangeRow, type VehicleRow, vehicleColumns } from '@/lib/records/rows'
import { formatDay, parseDay } from '@/lib/units/dates'
import type { EntryGround, Slip } from './form-ground'
import { TypedFields } from './inner/typed-fields'
import { readTables } from './read-tables'
import { asRecords } from './typed-entry'

/** Whether a vehicle is there, and where it is not, since when and under which cover. */
export type StatusFacts = Pick<VehicleRow, 'status' | 'leftOn' | 'soldOn' | 'coverUntilOn' | 'coverUntilKm'>

/** Whose a vehicle is, with what goes on record where that has changed. */
export type TypedOwner = {
  facts: Partial<Pick<VehicleRow, 'customer' | 'contact'>>
  changes: ChangeRow[]
}

/** What a vehicle is, as far as its form asks. */
export type TypedFacts = Pick<VehicleRow, 'family' | 'variant' | 'plate' | 'vin' | 'site' | 'value' | 'duty'>

type Typed = Readonly<Record<string, string>>
type Read<Found> = ({ ok: true } & Found) | { ok: false; slips: Slip[] }

const STATUS = z.enum(['active', 'stock', 'sold', 'retired'])

/**
 * Reads what has become of a vehicle. Cover is of a sold vehicle alone, and days belong to one that is gone: what
 * else stands in their fields says nothing.
 */
export function readTypedStatus(
  typed: Typed,
  { today, distance }: Pick<EntryGround, 'today' | 'distance'>,
): Read<{ facts: StatusFacts }> {
  const fields = new TypedFields(typed, { today, distance })
  const status = STATUS.safeParse(fields.text('status'))
  if (!status.success) return { ok: false, slips: [{ field: 'status', message: 'Say what became of it' }] }
  const facts: StatusFacts = {
    ...{ status: status.data, leftOn: null, soldOn: null, coverUntilOn: null, coverUntilKm: null },
  }
  if (facts.status === 'active' || facts.status === 'stock') return { ok: true, facts }
  if (!fields.isOn('left_on')) fields.slip('left_on', 'Write when it was sold or retired')
  facts.leftOn = parseDay(fields.day('left_on'))
  if (facts.status === 'sold') {
    facts.soldOn = facts.leftOn
    facts.coverUntilOn = coverDay(fields, facts.soldOn)
    facts.coverUntilKm = fields.distance('cover_until_km')?.km ?? null
  }
  return fields.slips.length > 0 ? { ok: false, slips: fields.slips } : { ok: true, facts }
}

/** The last day under cover, which may well lie ahead; null for none. */
function coverDay(fields: TypedFields, soldOn: number | null): number | null {
  const text = fields.text('cover_until_on')
  if (text === '') return null
  const day = parseDay(text)
  if (day === null) fields.slip('cover_until_on', `“${text}” is not a day: write it like 2027-06-30`)
  else if (soldOn !== null && day < soldOn)
    fields.slip('cover_until_on', `Cover ends no earlier than it was sold, ${formatDay(soldOn)}`)
  return day
}

/**
 * Reads whose a vehicle is: the same owner put right, or another from a day on. Of another, a blank name or contact is
 * one that is not known; nothing of an earlier owner is left in its place.
 */
export function readTypedOwner(typed: Typed, ground: EntryGround): Read<TypedOwner> {
  const fields = new TypedFields(typed, ground)
  const which = fields.text('which')
  if (which !== 'other' && which !== 'same')
    return { ok: false, slips: [{ field: 'which', message: 'Say whether the owner is another one' }] }
  const named = vehicleColumns
    .pick({ customer: true, contact: true })
    .safeParse({ customer: fields.text('customer'), contact: fields.text('contact') })
  for (const { path, message } of named.error?.issues ?? []) fields.slip(String(path[0]), message)
  if (!named.success) return { ok: false, slips: fields.slips }
  if (which === 'same') return readSameOwner(named.data)
  const change = {
    ...{ unit: ground.unit, on: fields.day('on'), kind: 'owner' },
    odometer_km: fields.distance('odometer')?.km ?? '',
  }
  if (fields.slips.length > 0) return { ok: false, slips: fields.slips }
  const { records, slips } = asRecords({ changes: [change] }, ground)
  return slips.length > 0 ? { ok: false, slips } : { ok: true, facts: named.data, changes: records.changes }
}

/** The same owner put right: what is left blank stands. */
function readSameOwner({ customer, contact }: Pick<VehicleRow, 'customer' | 'contact'>): Read<TypedOwner> {
  if (customer === null && contact === null)
    return { ok: false, slips: [{ field: 'customer', message: 'Write the name or the contact as it is' }] }
  const facts = { ...(customer !== null && { customer }), ...(contact !== null && { contact }) }
  return { ok: true, facts, changes: [] }
}

/** Reads what a vehicle is; its cells pass the checks that those of a file pass. A blank one is not known. */
export function readTypedFacts(
  typed: Typed,
  ground: { unit: string; families: Family[]; today: number },
): Read<{ facts: TypedFacts }> {
  const { families, today, unit } = ground
  const cells = ['family', 'variant', 'plate', 'vin', 'site', 'value', 'duty'] as const
  const given = { unit, ...Object.fromEntries(cells.map((cell) => [cell, typed[cell] ?? ''])) }
  const [read] = readTables([{ name: 'vehicles', kind: 'vehicles', objects: [given] }], {
    library: { families },
    today,
  })
  const slips = (read?.rejected ?? []).map(({ column, reason }) => ({ field: column, message: reason }))
  const row = read?.records.vehicles[0]
  if (!row) return { ok: false, slips }
  const { family, variant, plate, vin, site, value, duty } = row
  return { ok: true, facts: { family, variant, plate, vin, site, value, duty } }
}
