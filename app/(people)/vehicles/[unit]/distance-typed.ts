import { milesFromKm } from '@/lib/units/distances'

/** A distance as it stands in a field whose unit is said beside it: whole, without marks between the digits. */
export function distanceTyped(km: number | null, unit: 'km' | 'mi'): string {
  if (km === null) return ''
  return String(Math.round(unit === 'km' ? km : milesFromKm(km)))
}
