import { KM_PER_MILE } from '@/lib/units/distances'
import type { Random } from './random'
import type { Logbook, ReadingLine } from './rows'
import type { Vehicle } from './vehicle'

/** What goes wrong when a person reads or types an odometer: how often, and what then stands there. */
const SLIPS: { chance: number; slip: (km: number, random: Random) => number }[] = [
  { chance: 0.002, slip: (km) => Math.round(km / KM_PER_MILE) },
  { chance: 0.003, slip: swapDigits },
  { chance: 0.001, slip: (km) => km * 10 },
  { chance: 0.001, slip: (km, random) => Math.round(km * random.between(0.3, 0.8)) },
]

/** Odometers that come from somebody's memory or handwriting. */
const TYPED = new Set(['driver', 'yard list', 'customer message'])

/** Adds the slips, losses and frauds to the records of one vehicle, in place. */
export function addMishaps(vehicle: Vehicle, book: Logbook, random: Random): void {
  for (const reading of book.readings) {
    if (TYPED.has(reading.source)) reading.odometer_km = slipped(reading.odometer_km, random)
  }
  if (vehicle.oldInvoices) book.readings.unshift(...oldInvoices(vehicle, random))
  if (vehicle.newClusterOn !== null) changeCluster(vehicle, book, vehicle.newClusterOn)
  if (vehicle.papersLost) losePapers(vehicle, book, vehicle.papersLost)
}

function slipped(km: number, random: Random): number {
  for (const { chance, slip } of SLIPS) if (km > 2000 && random.chance(chance)) return slip(km, random)
  return km
}

/** Two unlike neighbours among the leading digits change places. */
function swapDigits(km: number): number {
  const digits = [...String(km)]
  const at = digits.findIndex((digit, i) => i > 0 && digit !== digits[i - 1])
  if (at < 1) return km
  const swapped = [...digits.slice(0, at - 1), digits[at], digits[at - 1], ...digits.slice(at + 1)].join('')
  return Number(swapped)
}

/** Invoices found in the glove box after the purchase: the odometer had already shown more. */
function oldInvoices(vehicle: Vehicle, random: Random): ReadingLine[] {
  const trueKm = vehicle.firstKm * random.between(1.45, 1.7)
  return [-620, -390, -140].map((before) => ({
    unit: vehicle.unit,
    read_on: vehicle.firstDay + before,
    odometer_km: Math.round(trueKm + before * vehicle.kmPerDay * 0.4),
    engine_hours: null,
    source: 'old invoice',
  }))
}

/** The instrument is exchanged and starts at nothing; the workshop writes the difference down. */
function changeCluster(vehicle: Vehicle, book: Logbook, on: number): void {
  const offsetKm = book.readings.filter((r) => r.read_on < on).at(-1)?.odometer_km ?? 0
  const dated: [number, { odometer_km: number | null }][] = [
    ...book.readings.map((r) => [r.read_on, r] as [number, typeof r]),
    ...book.codes.map((c) => [c.seen_on, c] as [number, typeof c]),
    ...book.checks.map((c) => [c.checked_on, c] as [number, typeof c]),
    ...book.repairs.map((r) => [r.done_on, r] as [number, typeof r]),
    ...book.changes.map((c) => [c.on, c] as [number, typeof c]),
  ]
  for (const [day, line] of dated) {
    if (day >= on && line.odometer_km !== null) line.odometer_km = Math.max(0, line.odometer_km - offsetKm)
  }
  const change = { unit: vehicle.unit, on, odometer_km: 0, kind: 'cluster' as const }
  book.changes.push({ ...change, engine_km: null, offset_km: offsetKm })
}

/** A flooded office: nothing is left of the months between, and the changes say so. */
function losePapers(vehicle: Vehicle, book: Logbook, { from, to }: { from: number; to: number }): void {
  const outside = (day: number) => day < from || day > to
  book.readings = book.readings.filter((r) => outside(r.read_on))
  book.codes = book.codes.filter((c) => outside(c.seen_on))
  book.checks = book.checks.filter((c) => outside(c.checked_on))
  book.repairs = book.repairs.filter((r) => outside(r.done_on))
  const change = { unit: vehicle.unit, odometer_km: null, engine_km: null, offset_km: null }
  book.changes.push({ ...change, on: from, kind: 'gap-from' }, { ...change, on: to, kind: 'gap-to' })
}
