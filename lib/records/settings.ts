import { z } from 'zod'

const price = z.number().min(0).max(1e9).nullable().default(null)
const share = z.number().min(0).max(1)
const hours = z.strictObject({ hours: z.number().min(0).max(1000) })

const canMake = (make: () => unknown): boolean => {
  try {
    make()
    return true
  } catch {
    return false
  }
}
const isTimeZone = (zone: string) => canMake(() => new Intl.DateTimeFormat('en', { timeZone: zone }))
const isLocale = (locale: string) => canMake(() => new Intl.NumberFormat(locale))

/** What a vehicle goes by: a number in a fleet, a plate in a shop, a stock number at a dealer. */
export const VEHICLE_NUMBERS = ['vehicle', 'plate', 'stock'] as const
export type VehicleNumber = (typeof VEHICLE_NUMBERS)[number]

/** An organisation's own settings: `settings.json` of a data folder. Prices that are null are the library's. */
export const settingsSchema = z.object({
  currency: z
    .string()
    .regex(/^[A-Z]{3}$/, 'expected an ISO 4217 code like EUR')
    .nullable()
    .default(null),
  locale: z.string().refine(isLocale, 'expected a language tag like en-GB').default('en'),
  timeZone: z.string().refine(isTimeZone, 'expected an IANA zone like Europe/Berlin').default('UTC'),
  distance: z.enum(['km', 'mi']).default('km'),
  /** What its people call the number of a vehicle. */
  vehicleNumber: z.enum(VEHICLE_NUMBERS).default('vehicle'),
  labourRate: price,
  dayOffRoad: price,
  visit: price,
  slotDays: z.number().positive().max(365).nullable().default(null),
  looks: z
    .strictObject({ scan: hours, visual: hours, road: hours, measure: hours })
    .partial()
    .nullable()
    .default(null),
  stopLimit: share.default(0.1),
  watchLimit: share.default(0.05),
  /** In what share of cases the parts in stock are to be enough. (A convention of ours, without a source.) */
  serviceLevel: z.number().min(0.5).max(0.999).default(0.95),
  adviceHorizonDays: z.number().positive().max(3650).default(90),
  /** What is set aside is enough in so many of all cases. (A convention of ours, without a source.) */
  setAsideShare: z.number().min(0.5).max(0.99).default(0.8),
  /** What a customer pays and loses, where that is other than what the organisation reckons with; null: the same. */
  customerLabourRate: price,
  customerDayOffRoad: price,
  customerVisit: price,
  /** Times the library's price of parts; null: once. */
  customerPartsFactor: z.number().min(0).max(100).nullable().default(null),
  /** No customer is written to twice within so many days. (Common practice, no source.) */
  letterEveryDays: z.number().int().min(1).max(3650).default(90),
  /** A vehicle without a record for so many months may be gone: it is asked about first. (Common practice, no source.) */
  quietMonths: z.number().int().min(1).max(120).default(15),
  /** Words and shares of value, for the reserve; whoever grades reads them. */
  grades: z.unknown().default(null),
})

export type Settings = z.output<typeof settingsSchema>

/** What holds where an organisation has said nothing. */
export const DEFAULT_SETTINGS: Settings = settingsSchema.parse({})
