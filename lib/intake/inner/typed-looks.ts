import type { Family, Sign } from '@/lib/records/library'
import { LAMP_ON } from '@/lib/records/rows'
import { signsForCode } from '@/lib/records/sign-codes'
import { readTypedCodes } from '@/lib/records/typed-codes'
import type { GivenObjects, Occasion } from '../form-ground'
import type { TypedFields } from './typed-fields'

/** Codes that were read out; where they were all that a scan found, the scan too. */
export function typedCodes(fields: TypedFields, occasion: Occasion, family: Family | null): GivenObjects {
  const { codes, unread } = readTypedCodes(fields.text('codes'))
  const none = fields.isOn('none')
  if (unread.length > 0)
    fields.slip(
      'codes',
      `${unread.join(', ')}: no trouble code; write five characters like P0302, or SPN:FMI like 94:18`,
    )
  else if (codes.length === 0 && !none)
    fields.slip('codes', 'Type or paste the codes, or say below that the scan found none')
  else if (codes.length > 0 && none)
    fields.slip('none', 'There are codes above: take them out, or take this out')
  const { on, ...place } = occasion
  const rows = codes.map((code) => ({
    ...place,
    seen_on: on,
    code,
    state: fields.text('state'),
    lamp: fields.text('lamp'),
    cleared_on: fields.isOn('cleared') ? on : '',
  }))
  const signOf = family === null ? () => null : signsForCode(family)
  const seen = codes.flatMap((code) => signOf(code) ?? [])
  const scan = {
    ...place,
    checked_on: on,
    kind: 'scan',
    seen: seen.map(({ sign, position }) => keyAt(sign, position)).join(' '),
    km_since_cleared: fields.distance('since_cleared')?.km ?? '',
  }
  return { codes: rows, checks: none || fields.isOn('all') ? [scan] : [] }
}

/** Signs that were looked for, each seen or not; one check for each kind of look. */
export function typedLook(
  fields: TypedFields,
  { on, ...place }: Occasion,
  family: Family | null,
): GivenObjects {
  const answers = new Map(fields.under('sign'))
  const looked = (family?.signs ?? []).filter(({ key }) => answers.has(key))
  if (looked.length === 0) fields.slip('look', 'Say of at least one sign whether it was seen')
  const kinds = [...new Set(looked.map(({ kind }) => kind))]
  return {
    checks: kinds.map((kind) => {
      const ofKind = looked.filter((sign) => sign.kind === kind)
      const seen = ofKind.filter(({ key }) => answers.get(key) === 'seen')
      return {
        ...place,
        checked_on: on,
        kind: kind === 'code' ? 'scan' : kind,
        seen: seen.flatMap((sign) => seenAt(fields, sign)).join(' '),
        looked_for: ofKind.map(({ key }) => key).join(' '),
      }
    }),
  }
}

/** What a driver or a customer says: nothing but what is listed. */
export function typedReport(
  fields: TypedFields,
  { on, ...place }: Occasion,
  family: Family | null,
): GivenObjects {
  const said = new Set(fields.under('sign').map(([key]) => key))
  const seen = (family?.signs ?? [])
    .filter(({ key }) => said.has(key))
    .flatMap((sign) => seenAt(fields, sign))
  if (said.has(LAMP_ON)) seen.push(LAMP_ON)
  if (seen.length === 0) fields.slip('look', 'Say what was noticed: at least one of these')
  return {
    checks: [{ ...place, checked_on: on, kind: 'report', seen: seen.join(' '), said: fields.text('said') }],
  }
}

const keyAt = (sign: string, position: number | null) => (position === null ? sign : `${sign}@${position}`)

/** A sign at the positions that were ticked, or without one. */
function seenAt(fields: TypedFields, { key, positions }: Sign): string[] {
  const at = Array.from({ length: positions }, (_, i) => i + 1).filter((n) => fields.isOn(`at:${key}:${n}`))
  return at.length === 0 ? [key] : at.map((position) => keyAt(key, position))
}
