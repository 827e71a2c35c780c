import { SSF } from '@e965/xlsx'
import { dayOfSerial, showsDay } from './serial-day'

/** A number as its format shows it, and the day that it stands for where the format is a date's. */
export interface ShownNumber {
  text: string
  iso: string | null
}

/** Days come again and again; their formats cost the most. */
const MOST_KEPT = 50_000

/** Shows the numbers of one workbook. */
export class NumberShower {
  private readonly days = new Map<string, { isDay: boolean; shown: Map<number, ShownNumber> }>()

  /** @param is1904 by which date system its serial dates count */
  constructor(private readonly is1904: boolean) {}

  /** @param format as the workbook holds it; null where it has none */
  show(number: number, format: string | null): ShownNumber {
    if (format === null || format === 'General') return { text: plainNumber(number), iso: null }
    const { isDay, shown } = this.ofFormat(format)
    if (!isDay) return { text: this.formatted(number, format) || plainNumber(number), iso: null }
    const known = shown.get(number)
    if (known) return known
    const iso = dayOfSerial(number, this.is1904)
    const found = { text: this.formatted(number, format) || (iso ?? plainNumber(number)), iso }
    if (shown.size < MOST_KEPT) shown.set(number, found)
    return found
  }

  private ofFormat(format: string) {
    const known = this.days.get(format)
    if (known) return known
    const made = { isDay: showsDay(format), shown: new Map<number, ShownNumber>() }
    this.days.set(format, made)
    return made
  }

  /** Blank where the format cannot be followed, or hides the number. */
  private formatted(number: number, format: string): string {
    try {
      const shown: unknown = SSF.format(withDots(format), number, { date1904: this.is1904 })
      return typeof shown === 'string' ? shown : ''
    } catch {
      return ''
    }
  }
}

/** The library follows a date's points only where they are escaped; those before fractions of a second are figures'. */
const withDots = (format: string): string =>
  /[dmy]\./i.test(format) ? format.replace(/(?<!\\)\.(?!0)/g, '\\.') : format

/**
 * A number without a format, whole: shown as `2.02511E+11` in a narrow column, an order number would be another. Fifteen
 * figures are what a workbook keeps.
 */
const plainNumber = (number: number): string => String(Number(number.toPrecision(15)))
