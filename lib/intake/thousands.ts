import { readTypedNumber } from '@/lib/records/typed-number'
import { kmFromMiles, milesFromKm } from '@/lib/units/distances'

const TYPED = /^(.*?\d)\s*(k|thousand|thou|t)?\s*(km|kms|kilomet(?:er|re)s?|mi|mls|miles?)?\.?$/i
/** Numbers below it are thousands, as the field asks. */
const ONE_THOUSAND = 1000
const LARGEST_KM = 10_000_000

/**
 * A distance where thousands are asked for: `80`, `80k`, `80 thousand`, `80,000`, `80.000` and `80 000 km` all mean
 * eighty thousand. What was read is to be said back.
 *
 * @param unit what a number without a unit is in
 * @returns km; null where it is no distance
 */
export function kmFromThousands(text: string, unit: 'km' | 'mi'): number | null {
  const [, number = '', thousands, written] = TYPED.exec(text.trim()) ?? []
  const value = readTypedNumber(number)
  if (value === null) return null
  const whole = thousands !== undefined || value < ONE_THOUSAND ? value * ONE_THOUSAND : value
  const isKm = written === undefined ? unit === 'km' : written.toLowerCase().startsWith('k')
  const km = isKm ? whole : kmFromMiles(whole)
  return km > 0 && km <= LARGEST_KM ? km : null
}

/** A range where thousands are asked for. */
export type KmRange = { from: number; to: number }

const LEADING = /^(?:from|between|about|roughly|some|around)\s+/i
const PARTS = /\s*(?:\bto\b|\band\b|\buntil\b|\btill\b|[-–—…]|\.{2,})\s*/i
const UNIT = /(km|kms|kilomet(?:er|re)s?|mi|mls|miles?)\.?$/i

/**
 * A range of distances as people say one: `80 to 120`, `80-120k`, `between 80,000 and 120,000 km`. A unit that stands at
 * the end holds for both.
 *
 * @returns null where it is no range; the ends may be in the wrong order
 */
export function kmRangeFrom(text: string, unit: 'km' | 'mi'): KmRange | null {
  const parts = text.trim().replace(LEADING, '').split(PARTS)
  const [first = '', second = ''] = parts
  if (parts.length !== 2) return null
  const own = UNIT.exec(second.trim())?.[1]
  const both = own === undefined ? unit : own.toLowerCase().startsWith('k') ? 'km' : 'mi'
  const [from, to] = [kmFromThousands(first, both), kmFromThousands(second, both)]
  return from === null || to === null ? null : { from, to }
}

const inUnit = (km: number, unit: 'km' | 'mi', change: (value: number) => number) =>
  unit === 'km' ? change(km) : kmFromMiles(change(milesFromKm(km)))

/** The next whole thousand of the unit, in km. */
export const upToThousand = (km: number, unit: 'km' | 'mi') =>
  inUnit(km, unit, (value) => Math.ceil(value / ONE_THOUSAND) * ONE_THOUSAND)

/** What a fitted distance is said as: more than three figures of the unit would claim more than was said. In km. */
export const saidKm = (km: number, unit: 'km' | 'mi') =>
  inUnit(km, unit, (value) => Number(value.toPrecision(3)))

/** A distance as somebody would type it where thousands are asked for; it reads back as the same whole km. */
export function typedThousands(km: number, unit: 'km' | 'mi'): string {
  const value = unit === 'km' ? km : Number(milesFromKm(km).toFixed(1))
  const thousands = Math.round(value / ONE_THOUSAND)
  const isWhole =
    Math.round(unit === 'km' ? thousands * ONE_THOUSAND : kmFromMiles(thousands * ONE_THOUSAND)) === km
  if (isWhole && thousands > 0 && thousands < ONE_THOUSAND) return String(thousands)
  // Four decimals are never taken for groups of three.
  return value < ONE_THOUSAND ? (value / ONE_THOUSAND).toFixed(4) : String(value)
}
