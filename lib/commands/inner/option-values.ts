/** How the values of options are read; what cannot be one is said in one line. */
import { InvalidArgumentError } from 'commander'
import { type Day, parseDay } from '@/lib/units/dates'

export function day(text: string): Day {
  const parsed = parseDay(text)
  if (parsed === null)
    throw new InvalidArgumentError('It must be a date that exists, written like 2026-06-30.')
  return parsed
}

export const upTo =
  (most: number) =>
  (text: string): number => {
    const value = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN
    if (value > 0 && value <= most) return value
    throw new InvalidArgumentError(`It must be a number above 0 and up to ${most}.`)
  }

/** Longest horizon of a score, and the one that is asked where none is said. */
export const LONGEST_DAYS = 3650
export const DEFAULT_DAYS = 90
