import type { Day } from '@/lib/units/dates'
import { type Line, type RecordFile, toCsv } from './csv'
import { DEMO_NAMES } from './demo-names'
import { writeEndings } from './endings'
import { addMishaps } from './mishaps'
import type { DemoPerson, Organisation } from './organisation'
import { DEALER } from './organisations/dealer'
import { REPAIR_SHOP } from './organisations/repair-shop'
import { RURAL_FLEET } from './organisations/rural-fleet'
import { vehicleLine } from './papers'
import { partsInStore } from './parts-store'
import { makeRandom } from './random'
import { simulateVehicle } from './simulate'
import { makeVehicles } from './vehicles'

export type Demo = {
  organisation: Pick<
    Organisation,
    'key' | 'name' | 'locale' | 'currency' | 'timeZone' | 'distance' | 'vehicleNumber'
  >
  person: DemoPerson
  /** A library file in the form `gudgeon-library/1`. */
  libraryJson: string
  /** A data folder: file name to contents. */
  files: Map<string, Uint8Array>
}

const ORGANISATIONS: readonly Organisation[] = [RURAL_FLEET, DEALER, REPAIR_SHOP]

/**
 * The demo: three organisations of our own invention, each with six years of records that end the day before
 * `today`. The same `today` gives the same bytes; another day gives the same stories, shifted.
 *
 * @param names which of them; all where it is left out
 */
export const makeDemos = ({ today, names = DEMO_NAMES }: { today: Day; names?: readonly string[] }): Demo[] =>
  ORGANISATIONS.filter(({ name }) => names.includes(name)).map((organisation) =>
    makeDemo(organisation, today - 1),
  )

function makeDemo(organisation: Organisation, lastDay: Day): Demo {
  const { key, name, locale, currency, timeZone, distance, vehicleNumber, person, library } = organisation
  const files = new Map<string, Uint8Array>()
  for (const [file, lines] of Object.entries(makeLines(organisation)))
    files.set(`${file}.csv`, toCsv(file as RecordFile, lines, lastDay, distance))
  files.set('settings.json', new TextEncoder().encode(settingsJson(organisation)))
  return {
    organisation: { key, name, locale, currency, timeZone, distance, vehicleNumber },
    person,
    libraryJson: `${JSON.stringify(library, null, 2)}\n`,
    files,
  }
}

function makeLines(organisation: Organisation): Record<RecordFile, Line[]> {
  const { key, ways, library, priceLevel, endings } = organisation
  const vehicles = makeVehicles(key, ways, library, priceLevel)
  const books = vehicles.map((vehicle) => {
    const book = simulateVehicle(vehicle, key)
    addMishaps(vehicle, book, makeRandom(`${key}/${vehicle.unit}/mishaps`))
    return book
  })
  writeEndings(endings, vehicles, books)
  return {
    vehicles: vehicles.map((vehicle, i) => vehicleLine(organisation, vehicle, books[i]!)),
    readings: books.flatMap((book) => book.readings),
    codes: books.flatMap((book) => book.codes),
    checks: books.flatMap((book) => book.checks),
    repairs: books.flatMap((book) => book.repairs),
    changes: books.flatMap((book) => book.changes),
    parts: partsInStore(key, library),
  }
}

function settingsJson(organisation: Organisation): string {
  const { currency, locale, timeZone, distance, vehicleNumber, watchLimit } = organisation
  return `${JSON.stringify({ currency, locale, timeZone, distance, vehicleNumber, watchLimit }, null, 2)}\n`
}
