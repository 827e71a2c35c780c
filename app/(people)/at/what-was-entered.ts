import type { Family, Sign } from '@/lib/records/library'
import { signsForCode } from '@/lib/records/sign-codes'
import { readTypedCodes } from '@/lib/records/typed-codes'
import { type Day, dayIn, formatDay } from '@/lib/units/dates'
import { KIND_NAMES } from './at-words'
import type { AtVehicleKind } from './sent-entry'

type Fields = Readonly<Record<string, string>>

/** The signs that fields of any form say were seen. */
function signsSeen(fields: Fields, family: Family | null): Sign[] {
  if (family === null) return []
  const signOf = signsForCode(family)
  const byCode = readTypedCodes(fields.codes ?? '').codes.map((code) => signOf(code)?.sign)
  return family.signs.filter(({ key }) => {
    const said = fields[`sign:${key}`]
    return said === 'seen' || said === 'yes' || byCode.includes(key)
  })
}

/** Those among them with which nobody must drive on. */
export const stopSignsIn = (fields: Fields, family: Family | null): Sign[] =>
  signsSeen(fields, family).filter(({ stop }) => stop)

/** An entry in a few words, for the list of what is on this phone. */
export function titleOf(kind: AtVehicleKind, fields: Fields, family: Family | null): string {
  const said = detailOf(kind, fields, family)
  return said === '' ? KIND_NAMES[kind] : `${KIND_NAMES[kind]}: ${said}`
}

const LONGEST_TITLE = 60

function detailOf(kind: AtVehicleKind, fields: Fields, family: Family | null): string {
  switch (kind) {
    case 'reading':
      return `${fields.odometer ?? ''} ${fields.unit ?? ''}`.trim()
    case 'codes':
      return (
        readTypedCodes(fields.codes ?? '')
          .codes.join(', ')
          .slice(0, LONGEST_TITLE) || 'none'
      )
    case 'look': {
      const answers = Object.entries(fields).filter(([name, said]) => name.startsWith('sign:') && said !== '')
      const seen = answers.filter(([, said]) => said === 'seen').length
      return `${seen} seen, ${answers.length - seen} not seen`
    }
    case 'report':
      return signsSeen(fields, family)
        .map(({ label }) => label)
        .join(', ')
        .slice(0, LONGEST_TITLE)
    case 'repair':
      return family?.weakPoints.find(({ key }) => key === fields.weak_point)?.component ?? ''
    case 'photograph':
      return (fields.note ?? '').slice(0, LONGEST_TITLE)
  }
}

/**
 * The odometer that was typed last for a vehicle on the day of an instant, in the unit it was typed in; for the other
 * forms of a visit. Days are those of the organisation: the phone's own zone may be another.
 */
export function odometerToday(
  entries: readonly { unit: string; madeAt: string; fields: Fields }[],
  unit: string,
  { timeZone, now }: { timeZone: string; now: Date },
): { odometer: string; unit: string } | null {
  const today = dayIn(timeZone, now)
  const own = entries
    .filter((entry) => entry.unit === unit && dayIn(timeZone, new Date(entry.madeAt)) === today)
    .filter(
      ({ fields }) =>
        (fields.odometer ?? '').trim() !== '' && (fields.on ?? formatDay(today)) === formatDay(today),
    )
    .sort((a, b) => (a.madeAt < b.madeAt ? -1 : 1))
  const last = own.at(-1)
  return last === undefined ? null : { odometer: last.fields.odometer ?? '', unit: last.fields.unit ?? '' }
}

/** What is kept of a form that is half filled in: what somebody has put there, so that a later day is a later day. */
export const draftOf = (fields: Fields, today: Day): Record<string, string> =>
  Object.fromEntries(
    Object.entries(fields).filter(
      ([name, value]) => value !== '' && !(name === 'on' && value === formatDay(today)),
    ),
  )
