import type { FamilyEntry } from './library/shape'
import type { Duty, RepairLine } from './rows'

/** Six years, in days; day 0 is the last day of the records. */
export const FIRST_DAY = -2190

/** One vehicle: what it is, how it is used and looked after. Days count from the end. */
export type Vehicle = {
  unit: string
  familyKey: string
  /** null: an engine that nobody has described. */
  family: FamilyEntry | null
  variant: string | null
  site: string | null
  duty: Duty
  /** What its tracker sends beside the odometer: the codes themselves, or only that the lamp is on. */
  tracker: 'codes' | 'lamp' | null
  origin: 'new' | 'kept' | 'bought'
  inServiceOn: number
  firstDay: number
  firstKm: number
  lastDay: number
  leaves: 'sold' | 'retired' | null
  /** What a dealer has sold stays in the records for as long as it is under cover. */
  sale: { on: number; coverUntil: number; coverKm: number } | null
  kmPerDay: number
  season: 'even' | 'summer'
  /** Only moved about a yard in these days, now and then by so many km at most. */
  stands: { from: number; until: number; mostKm: number } | null
  kmPerHour: number
  /** From when engine hours are written down, if ever. */
  hoursFrom: number | null
  serviceEveryKm: number
  /** Scheduled renewals happen this late, as a share of the interval. */
  lateness: number
  /** The driver's chance per week to report something that can be seen or heard. */
  attention: number
  temper: number
  /** Bought with an odometer that had been turned back, as old invoices show. */
  oldInvoices: boolean
  newClusterOn: number | null
  papersLost: { from: number; to: number } | null
  price: number
  habits: Habits
}

/** What people do with every vehicle of one organisation. A chance of 1 or 0 is a rule without exception. */
export type Habits = {
  /** Where the first odometer comes from. */
  firstSource: string
  /** Somebody without a tracker reads the odometer every so many weeks, if they think of it. */
  reading: { everyWeeks: number; chance: number; sources: readonly string[]; onceSold?: string }
  /** The chance per week that a driver tells that the lamp is on. */
  tellsOfLamp: number
  firstServiceDays: readonly [number, number]
  otherVisitsPerYear: number
  /** The chance of a scan at a visit that nobody's complaint asked for; of a look round that is no service. */
  scansUnasked: number
  looksUnasked: number
  /** Whether a service ends with a drive. */
  drivesAtService: boolean
  /** The chance that a sign which is not grave is left to another day, and how many days off that is. */
  putsOff: number
  putOffDays: readonly [number, number]
  /** The chance that the vehicle comes back within weeks of a repair to be read again. */
  returnsToCheck: number
  paidBy: NonNullable<RepairLine['paid_by']>
}
