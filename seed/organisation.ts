import type { Ending } from './endings'
import type { DemoLibrary } from './library/library'
import type { Random } from './random'
import type { Logbook, VehicleLine } from './rows'
import type { Vehicle } from './vehicle'
import type { Ways } from './vehicles'

/** Who looks at the demo, and what this person has to decide today, in one sentence. */
export type DemoPerson = { name: string; title: string; decides: string }

/** One invented organisation: everything that differs from the others. */
export type Organisation = {
  /** The name of its folder, and the seed of all its dice. */
  key: string
  name: string
  /** A BCP 47 language tag, an ISO 4217 code and an IANA zone. */
  locale: string
  currency: string
  timeZone: string
  distance: 'km' | 'mi'
  /** What it calls the number of a vehicle. */
  vehicleNumber: 'vehicle' | 'plate' | 'stock'
  person: DemoPerson
  watchLimit: number
  /** Prices against those that the families and the model range are stated in. */
  priceLevel: number
  library: DemoLibrary
  ways: Ways
  /** What its papers say of a vehicle beside what every organisation's do. */
  papers(vehicle: Vehicle, book: Logbook, random: Random): Partial<VehicleLine>
  endings: readonly Ending[]
}
