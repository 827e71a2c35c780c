import { makePlate } from './invented-names'
import type { Organisation } from './organisation'
import { makeRandom } from './random'
import type { Logbook, VehicleLine } from './rows'
import type { Vehicle } from './vehicle'
import { makeVin } from './vin'

const VALUE_KEPT_PER_YEAR = 0.84
const LEAST_VALUE = 900

/** What a vehicle is worth on a day, in the organisation's currency. */
export function worthOn(vehicle: Vehicle, day: number): number {
  const years = (day - vehicle.inServiceOn) / 365
  return Math.max(LEAST_VALUE, Math.round((vehicle.price * VALUE_KEPT_PER_YEAR ** years) / 50) * 50)
}

/** The vehicle's row: what every organisation's papers say, and what its own add. */
export function vehicleLine(organisation: Organisation, vehicle: Vehicle, book: Logbook): VehicleLine {
  const random = makeRandom(`${organisation.key}/${vehicle.unit}/papers`)
  const numbers = makeRandom(`${organisation.key}/${vehicle.unit}/numbers`)
  const serial = Number(vehicle.unit.replace(/\D/g, ''))
  const isNew = vehicle.origin === 'new'
  return {
    unit: vehicle.unit,
    vin: numbers.chance(0.9) ? makeVin(vehicle.familyKey, organisation.key[0]!.toUpperCase(), serial) : null,
    plate: makePlate(serial, numbers),
    site: vehicle.site,
    status: vehicle.leaves ?? 'active',
    left_on: vehicle.leaves ? vehicle.lastDay : null,
    family: vehicle.familyKey,
    variant: vehicle.variant,
    built_on: vehicle.inServiceOn - random.whole(20, 120),
    in_service_on: vehicle.inServiceOn,
    watched_from_on: isNew ? null : vehicle.firstDay,
    watched_from_km: isNew ? null : vehicle.firstKm,
    history: isNew ? null : 'none',
    duty: vehicle.duty,
    value: worthOn(vehicle, vehicle.lastDay),
    customer: null,
    contact: null,
    acquired_on: null,
    acquired_from: null,
    purchase_price: null,
    prep_cost: null,
    asking_price: null,
    sold_on: null,
    cover_until_on: null,
    cover_until_km: null,
    ...organisation.papers(vehicle, book, random),
  }
}
