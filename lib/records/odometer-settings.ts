/** Constants of the odometer, the rate of use and the clocks; each may be replaced by an organisation. */
export interface OdometerSettings {
  /** Largest credible distance per day. */
  capKmPerDay: number
  /** Largest credible engine hours per day. */
  capHoursPerDay: number
  /** The rate of use comes from the trusted readings of so many days. */
  rateDays: number
  /** … if they span at least so many; otherwise from the vehicle's whole life. */
  rateLeastSpanDays: number
  /** A vehicle stands when its trusted readings of so many days … */
  standingDays: number
  /** … span less than this … */
  standingKm: number
  /** … over at least so many days (two visits in one week are no sign of standing). */
  standingLeastSpanDays: number
  /** On a standing vehicle a horizon in distance counts as so many days. */
  standingHorizonDays: number
  /** The uncertainty of a rate is that of the coming so many days. */
  forecastDays: number
  /** Centre and spread of the rate where nothing is known of a vehicle, its class or its fleet. */
  fallbackKmPerDay: number
  fallbackLogSd: number
  /** Forecast error (standard deviation of a log) that is believed before any is measured … */
  forecastLogSd: number
  /** … and the number of measured errors that this belief is worth. */
  forecastBeliefCount: number
  /** A class with fewer measured vehicles takes the rate of the whole fleet, that one the fallback. */
  classFewest: number
  /** Distance per engine hour by duty, for vehicles without engine hours. */
  kmPerHour: Readonly<Record<'short' | 'mixed' | 'long', number>>
}

/** What holds where an organisation has said nothing (the author's judgement, no source). */
export const ODOMETER_SETTINGS: Readonly<OdometerSettings> = {
  capKmPerDay: 1500,
  capHoursPerDay: 24,
  rateDays: 180,
  rateLeastSpanDays: 30,
  standingDays: 60,
  standingKm: 30,
  standingLeastSpanDays: 7,
  standingHorizonDays: 3000,
  forecastDays: 90,
  fallbackKmPerDay: 40,
  fallbackLogSd: 0.7,
  forecastLogSd: 0.35,
  forecastBeliefCount: 8,
  classFewest: 5,
  kmPerHour: { short: 24, mixed: 38, long: 58 },
}
