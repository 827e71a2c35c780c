import { kmFromMiles } from '@/lib/units/distances'
import { readTypedNumber } from './typed-number'

/** A distance as it was typed: its number and unit, to be said back, and what that is in km. */
export type TypedDistance = { value: number; unit: 'km' | 'mi'; km: number }

const WITH_UNIT = /^(.*?)\s*(km|kms|kilomet(?:er|re)s?|mi|mls|miles?)?\.?$/i
const LARGEST_KM = 10_000_000

/**
 * Reads an odometer as people type it: `84.210`, `84 210 km`, `52,300 miles`.
 *
 * @param unit what a number without a unit is in
 * @returns null where it is no distance that a vehicle can have run
 */
export function readTypedDistance(text: string, unit: 'km' | 'mi'): TypedDistance | null {
  const [, number = '', written] = WITH_UNIT.exec(text.trim()) ?? []
  const value = readTypedNumber(number)
  if (value === null) return null
  const meant = written === undefined ? unit : written.toLowerCase().startsWith('k') ? 'km' : 'mi'
  const km = meant === 'km' ? value : kmFromMiles(value)
  return km <= LARGEST_KM ? { value, unit: meant, km } : null
}
