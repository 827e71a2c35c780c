import { readTypedDistance, type TypedDistance } from '@/lib/records/typed-distance'
import { readTypedNumber } from '@/lib/records/typed-number'
import { formatDay, parseDay } from '@/lib/units/dates'
import type { EntryGround, Slip } from '../form-ground'

/** The texts of a form's fields, read one by one; what is wrong with any of them gathers here. */
export class TypedFields {
  readonly slips: Slip[] = []

  constructor(
    private readonly fields: Readonly<Record<string, string>>,
    private readonly terms: Pick<EntryGround, 'today' | 'distance'>,
  ) {}

  text(field: string): string {
    return (this.fields[field] ?? '').trim()
  }

  isOn(field: string): boolean {
    return this.text(field) !== ''
  }

  /** The fields under a heading that hold a value: `sign:leak` is `leak` under `sign`. */
  under(heading: string): [name: string, value: string][] {
    return Object.entries(this.fields).flatMap(([name, value]) =>
      name.startsWith(`${heading}:`) && value.trim() !== '' ? [[name.slice(heading.length + 1), value]] : [],
    )
  }

  /** A day in figures, or `today`, `yesterday`; blank is today. */
  day(field: string): string {
    const text = this.text(field).toLowerCase()
    const { today } = this.terms
    const day = text === '' || text === 'today' ? today : text === 'yesterday' ? today - 1 : parseDay(text)
    if (day === null) this.slip(field, `“${text}” is not a day: write it like ${formatDay(today)}`)
    else if (day > today) this.slip(field, 'That day has not come yet: write the day on which it was')
    return formatDay(day ?? today)
  }

  /** A distance as it is said, in the organisation's unit or its own; null for a blank. */
  distance(field: string): TypedDistance | null {
    const text = this.text(field)
    const read = text === '' ? null : readTypedDistance(text, this.terms.distance)
    if (text !== '' && read === null)
      this.slip(field, `“${text}” is no distance: write all of its digits, like 84210 or 84 210 km`)
    return read
  }

  /** An amount or a count; null for a blank. */
  number(field: string): number | null {
    const text = this.text(field)
    const read = text === '' ? null : readTypedNumber(text)
    if (text !== '' && read === null)
      this.slip(field, `“${text}” is no number: write digits, like 1.5 or 180`)
    return read
  }

  slip(field: string, message: string): void {
    this.slips.push({ field, message })
  }
}
