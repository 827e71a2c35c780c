/** What a driver may say that it is; nothing of it names a weak point. */
export const DRIVER_REPORT_KINDS = ['lamp', 'noise', 'leak', 'smell', 'power', 'else'] as const
export type DriverReportKind = (typeof DRIVER_REPORT_KINDS)[number]

/** What a driver reports by the label of a vehicle. */
export type DriverReport = {
  kind: DriverReportKind
  /** Where and when, in a few words. */
  words: string
  odometerKm: number | null
  /** Their name, if they like. */
  driver: string | null
}

/** A few words, and a name: more is not kept. */
export const LONGEST_WORDS = 500
export const LONGEST_DRIVER = 80
