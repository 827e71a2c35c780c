import type { Day } from '@/lib/units/dates'
import { type Line, type RecordFile, toCsv } from './csv'
import { writeEndings } from './endings'
import { makeFleet, type Vehicle } from './fleet'
import { DEMO_LIBRARY } from './library/library'
import { addMishaps } from './mishaps'
import { makeRandom } from './random'
import type { VehicleLine } from './rows'
import { simulateVehicle } from './simulate'

export type Demo = {
  organisation: { name: string; locale: string; currency: string; timeZone: string }
  /** A library file in the form `gudgeon-library/1`. */
  libraryJson: string
  /** A data folder: file name to contents. */
  files: Map<string, Uint8Array>
}

const SEED = 'tussock-and-sedge'

const ORGANISATION = {
  name: 'Tussock & Sedge Rural Services',
  locale: 'en-IE',
  currency: 'EUR',
  timeZone: 'Europe/Dublin',
}

/**
 * The demo: a rural service fleet of our own invention with six years of records that end the day before
 * `today`. The same `today` gives the same bytes; another day gives the same story, shifted.
 */
export function makeDemo({ today }: { today: Day }): Demo {
  const lastDay = today - 1
  const fleet = makeFleet(SEED)
  const books = fleet.map((vehicle) => {
    const book = simulateVehicle(vehicle, SEED)
    addMishaps(vehicle, book, makeRandom(`${SEED}/${vehicle.unit}/mishaps`))
    return book
  })
  writeEndings(fleet, books)
  const lines: Record<RecordFile, Line[]> = {
    vehicles: fleet.map(vehicleLine),
    readings: books.flatMap((book) => book.readings),
    codes: books.flatMap((book) => book.codes),
    checks: books.flatMap((book) => book.checks),
    repairs: books.flatMap((book) => book.repairs),
    changes: books.flatMap((book) => book.changes),
  }
  const files = new Map<string, Uint8Array>()
  for (const file of Object.keys(lines) as RecordFile[])
    files.set(`${file}.csv`, toCsv(file, lines[file], lastDay))
  files.set('settings.json', new TextEncoder().encode(settingsJson()))
  return { organisation: ORGANISATION, libraryJson: `${JSON.stringify(DEMO_LIBRARY, null, 2)}\n`, files }
}

function settingsJson(): string {
  const { currency, locale, timeZone } = ORGANISATION
  return `${JSON.stringify({ currency, locale, timeZone, distance: 'km', watchLimit: 0.12 }, null, 2)}\n`
}

function vehicleLine(vehicle: Vehicle): VehicleLine {
  const random = makeRandom(`${SEED}/${vehicle.unit}/papers`)
  const isNew = vehicle.origin === 'new'
  const years = (vehicle.lastDay - vehicle.inServiceOn) / 365
  const worth = (atYears: number) => Math.max(900, Math.round((vehicle.price * 0.84 ** atYears) / 50) * 50)
  return {
    unit: vehicle.unit,
    vin: null,
    plate: null,
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
    value: worth(years),
    acquired_on: vehicle.firstDay,
    acquired_from: isNew ? 'new' : vehicle.origin === 'bought' ? 'auction' : 'taken over',
    purchase_price: worth((vehicle.firstDay - vehicle.inServiceOn) / 365),
  }
}
