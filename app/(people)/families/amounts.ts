import type { Clock } from '@/lib/records/library'
import type { Formats } from '../../ui/formats'

const DAYS_PER_YEAR = 365.25
const DAYS_PER_MONTH = DAYS_PER_YEAR / 12
const MONTHS_IN_WORDS = 36

/** An amount of what a weak point ages by: "90,000 km", "1,200 hours", "6 years". */
export function clockAmount(amount: number, clock: Clock, formats: Formats): string {
  if (clock === 'distance') return formats.distance(amount)
  if (clock === 'hours') return counted(Math.round(amount), 'hour', formats)
  if (amount < 2 * DAYS_PER_MONTH) return counted(Math.round(amount), 'day', formats)
  const months = Math.round(amount / DAYS_PER_MONTH)
  if (months < MONTHS_IN_WORDS) return counted(months, 'month', formats)
  return counted(Math.round(amount / DAYS_PER_YEAR), 'year', formats)
}

function counted(count: number, unit: string, formats: Formats): string {
  return `${formats.count(count)}\u00a0${unit}${count === 1 ? '' : 's'}`
}
