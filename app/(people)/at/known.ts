import type { Family } from '@/lib/records/library'
import type { Terms } from '@/lib/store/read/terms'
import type { VehicleToTakeAlong } from '@/lib/store/read/vehicles-to-take-along'

/** Everything that a phone takes along, so that somebody beside a vehicle needs no reception. It comes as one answer. */
export type Known = {
  /** For whom: what another person enters on the same phone is not sent in their name. */
  person: { id: string; name: string }
  organisation: { id: string; name: string }
  /** Whether their role may enter records. */
  mayEnter: boolean
  terms: Pick<Terms, 'locale' | 'currency' | 'timeZone' | 'distance' | 'vehicleNumber'>
  /** The order of a walk round an engine. */
  zones: string[]
  families: Family[]
  vehicles: VehicleToTakeAlong[]
}

/** As it is kept on the phone: with when it came, by the phone's own clock. */
export type KnownSince = Known & { since: string }

/** When what is kept came, where it was forgotten since: whoever was signed in is so no longer. */
export const FORGOTTEN = new Date(0).toISOString()
