import type { Family } from '@/lib/records/library'
import { LAMP_ON } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import type { Slip } from './form-ground'
import { noRecords, type RecordLists } from './tables'
import { readTypedEntry } from './typed-entry'
import { readTypedVehicle } from './typed-vehicle'

/** What somebody says of a vehicle that has no records: its engine, what it has run, and what is noticed. */
export type Complaint = {
  unit: string
  family: string
  /** As it was typed. */
  odometer: string
  /** Signs by their keys, `key@3` at a position. */
  seen: string[]
  /** Signs that were asked about, or looked for, and are not there. */
  notSeen: string[]
  /** Trouble codes, as they were typed. */
  codes: string
}

type Ground = { families: Family[]; today: Day; distance: 'km' | 'mi' }

/**
 * Reads a complaint as the records that it would be: a vehicle watched from today on, with one reading, a look and
 * codes. What is entered at a vehicle passes the same checks.
 */
export function readTypedComplaint(
  { unit, family: key, odometer, seen, notSeen, codes }: Complaint,
  { families, today, distance }: Ground,
): Read {
  const family = families.find((each) => each.key === key) ?? null
  if (family === null) return slip('family', 'Choose its engine: without one nothing is known of its faults')
  if (odometer.trim() === '') return slip('odometer', 'Write what it has run, as near as it is known')
  const vehicle = readTypedVehicle(
    { unit, family: key, odometer, history: 'none' },
    { families, today, distance },
  )
  const noticed = readTypedNoticed({ unit, odometer, seen, notSeen, codes }, { family, today, distance })
  return allOf([vehicle, ...noticed])
}

type Read = { ok: true; records: RecordLists } | { ok: false; slips: Slip[] }

/**
 * What was noticed on a vehicle, as what would be entered at it: a look, what the driver says, codes.
 *
 * @returns each of them apart; none where nothing was noticed
 */
export function readTypedNoticed(
  { unit, odometer, seen, notSeen, codes }: Omit<Complaint, 'family'>,
  { family, today, distance }: { family: Family; today: Day; distance: 'km' | 'mi' },
): Read[] {
  const ground = { unit, family, today, distance }
  const looked = lookFields(seen, notSeen)
  return [
    ...(Object.keys(looked).length > 0 ? [readTypedEntry('look', { ...looked, odometer }, ground)] : []),
    ...(seen.includes(LAMP_ON)
      ? [readTypedEntry('report', { [`sign:${LAMP_ON}`]: 'seen', odometer }, ground)]
      : []),
    ...(codes.trim() === '' ? [] : [readTypedEntry('codes', { codes, odometer }, ground)]),
  ]
}

/** Everything that was read, together; or what is wrong with any of it. */
export function allOf(read: readonly Read[]): Read {
  const slips = read.flatMap((each) => (each.ok ? [] : each.slips))
  if (slips.length > 0) return { ok: false, slips }
  return {
    ok: true,
    records: read.flatMap((each) => (each.ok ? each.records : [])).reduce(together, noRecords()),
  }
}

const slip = (field: string, message: string) => ({ ok: false as const, slips: [{ field, message }] })

/** The fields of the form of a look: of a sign that was seen at a position, that too. */
function lookFields(seen: readonly string[], notSeen: readonly string[]): Record<string, string> {
  const fields: Record<string, string> = {}
  for (const sign of notSeen) fields[`sign:${sign}`] = 'not-seen'
  for (const each of seen.filter((sign) => sign !== LAMP_ON)) {
    const [sign = '', position] = each.split('@')
    fields[`sign:${sign}`] = 'seen'
    if (position !== undefined) fields[`at:${sign}:${position}`] = 'yes'
  }
  return fields
}

/** The reading that stands with the vehicle is enough. */
function together(all: RecordLists, more: RecordLists): RecordLists {
  return {
    ...all,
    vehicles: [...all.vehicles, ...more.vehicles],
    readings: [...all.readings, ...more.readings],
    codes: [...all.codes, ...more.codes],
    checks: [...all.checks, ...more.checks],
  }
}
