import type { TypedEntry } from '@/lib/intake/typed-entry'
import type { EntryKind } from '@/lib/intake/typed-form'
import type { TypedDistance } from '@/lib/records/typed-distance'
import type { Formats } from '../../../ui/formats'
import { CHANGE_MEANS, CHANGES } from '../../../ui/record-words'

const ENTERED: Record<EntryKind, string> = {
  reading: 'Reading',
  codes: 'Codes',
  look: 'Look',
  report: 'What the driver says',
  repair: 'Repair',
  change: 'Change',
}

/** What was entered, with the odometer said back as it was read. */
export function entryWords(
  kind: EntryKind,
  { day, odometer, records }: Extract<TypedEntry, { ok: true }>,
  formats: Formats,
): string {
  const at = odometer === null ? '' : ` at ${typedWords(odometer, formats)}`
  const codes = records.codes.length > 0 ? ` (${records.codes.map(({ code }) => code).join(', ')})` : ''
  return `${ENTERED[kind]}${codes} of ${formats.day(day)}${at}: entered.`
}

/** A distance in the unit in which it was typed. */
export function typedWords({ value, unit }: TypedDistance, formats: Formats): string {
  return `${formats.count(value)}\u00a0${unit}`
}

/** What a changed engine or instrument means for the chances; nothing for other entries. */
export const meaningLines = ({ changes }: { changes: { kind: keyof typeof CHANGES }[] }): string[] =>
  changes.map(({ kind }) => `${upperFirst(CHANGES[kind])}: ${CHANGE_MEANS[kind]}.`)

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
