import type { Random } from './random'
import type { Vehicle } from './vehicle'

/** Distance of one week, km: use varies from week to week and by season; a standing vehicle is only moved. */
export function weekKm(vehicle: Vehicle, day: number, random: Random): number {
  const { stands } = vehicle
  if (stands && day > stands.from && day <= stands.until)
    return random.chance(0.1) ? random.between(0, stands.mostKm) : 0
  const week = 7 * vehicle.kmPerDay * seasonFactor(vehicle, day)
  return week * Math.exp(0.35 * random.normal() - 0.06)
}

/** Mowing and path-clearing vehicles drive from spring to autumn; the last day falls in their season. */
function seasonFactor(vehicle: Vehicle, day: number): number {
  if (vehicle.season === 'even') return 1
  const yearShare = (((day + 150) % 365) + 365) % 365
  return yearShare < 215 ? 1.6 : 0.12
}

export const engineHours = (vehicle: Vehicle, km: number): number => km / vehicle.kmPerHour
