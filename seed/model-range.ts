import type { Duty } from './rows'

/** What vehicles with one engine have in common, whoever owns them. */
export type Model = {
  kmPerYear: Record<Duty, number>
  duties: readonly Duty[]
  /** New, at the price level that the families are stated in. */
  price: number
  serviceEveryKm: number
  /** Whether its instrument counts engine hours. */
  countsHours?: true
}

/** By engine family. Those that no library describes stand here too: somebody drives them. */
export const MODEL_RANGE: Record<string, Model> = {
  'plover-16': {
    kmPerYear: { short: 13000, mixed: 21000, long: 32000 },
    duties: ['short', 'mixed', 'mixed', 'long'],
    price: 26000,
    serviceEveryKm: 15000,
  },
  'dunlin-20': {
    kmPerYear: { short: 15000, mixed: 26000, long: 41000 },
    duties: ['short', 'mixed', 'mixed', 'long'],
    price: 34000,
    serviceEveryKm: 20000,
  },
  'siskin-12': {
    kmPerYear: { short: 9000, mixed: 15000, long: 23000 },
    duties: ['short', 'short', 'mixed', 'long'],
    price: 15500,
    serviceEveryKm: 15000,
  },
  'knot-82': {
    kmPerYear: { short: 20000, mixed: 38000, long: 64000 },
    duties: ['short', 'mixed', 'long'],
    price: 98000,
    serviceEveryKm: 30000,
    countsHours: true,
  },
  'wheatear-30': {
    kmPerYear: { short: 12000, mixed: 18000, long: 25000 },
    duties: ['short', 'mixed'],
    price: 41000,
    serviceEveryKm: 15000,
  },
  'bunting-14': {
    kmPerYear: { short: 11000, mixed: 18000, long: 27000 },
    duties: ['short', 'mixed'],
    price: 29000,
    serviceEveryKm: 15000,
  },
  'pipit-10': {
    kmPerYear: { short: 8000, mixed: 13000, long: 20000 },
    duties: ['short', 'mixed'],
    price: 14000,
    serviceEveryKm: 12000,
  },
}
