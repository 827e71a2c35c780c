import type { CheckLine, Logbook, RepairLine } from './rows'
import type { Vehicle } from './vehicle'

/** A short written ending: what was noted about one vehicle in its last days, `ago` days before the end. */
export type Ending = {
  family: string
  /** Driven, with or without a tracker; or only moved about the yard; or sold with cover. */
  of: 'tracked' | 'untracked' | 'standing' | 'cover'
  /** How long the vehicle must have been known before the first note. */
  knownDays: number
  /** Nothing but clean looks may be on record for so long; those make way for the ending. */
  quietDays: number
  minKm: number
  notes: Note[]
}

type Note = { ago: number } & (
  | { code: string; lamp: 'yes' | 'no'; clearedAgo?: number }
  | { check: CheckLine['kind']; seen: string; sinceClearedKm?: number }
  | {
      repair: string
      positions: string
      action: RepairLine['action']
      found: RepairLine['found']
      revision?: string
      note?: string
    }
)

/**
 * Writes every ending into the book of the first vehicle that has been quiet for long enough.
 *
 * @throws where no vehicle fits: the simulation was changed and the endings must be looked at again.
 */
export function writeEndings(
  endings: readonly Ending[],
  vehicles: readonly Vehicle[],
  books: readonly Logbook[],
): void {
  const taken: Vehicle[] = []
  const pairs = vehicles.map((vehicle, i) => ({ vehicle, book: books[i]! }))
  const knownFromNew = pairs.filter(({ vehicle }) => vehicle.origin === 'new')
  for (const ending of endings) {
    const free = ({ vehicle, book }: (typeof pairs)[number]) =>
      !taken.includes(vehicle) && fits(ending, vehicle, book)
    const chosen = knownFromNew.find(free) ?? pairs.find(free)
    if (!chosen)
      throw new Error(`no quiet ${ending.family} (${ending.of}) for an ending of ${ending.quietDays} days`)
    taken.push(chosen.vehicle)
    writeEnding(ending, chosen.vehicle, chosen.book)
  }
}

function fits(ending: Ending, vehicle: Vehicle, book: Logbook): boolean {
  const since = -ending.quietDays
  const first = Math.min(...ending.notes.map((note) => -note.ago))
  const odd = vehicle.oldInvoices || vehicle.newClusterOn !== null || vehicle.papersLost !== null
  if (odd || vehicle.season !== 'even' || vehicle.variant === null) return false
  if (vehicle.familyKey !== ending.family || kindOf(vehicle) !== ending.of) return false
  if (vehicle.firstDay > first - ending.knownDays || kmAt(vehicle, book, 0) < ending.minKm) return false
  const rising = book.readings.every((r, i) => i === 0 || r.odometer_km >= book.readings[i - 1]!.odometer_km)
  const stirred =
    book.codes.some((c) => c.seen_on >= since) ||
    book.repairs.some((r) => r.done_on >= since && r.weak_point !== 'other') ||
    book.checks.some((c) => c.checked_on >= since && c.seen !== '')
  return rising && !stirred
}

/** null: it has gone. */
function kindOf({ sale, stands, leaves, lastDay, tracker }: Vehicle): Ending['of'] | null {
  if (sale !== null) return sale.coverUntil > 0 ? 'cover' : null
  if (leaves !== null || lastDay < 0) return null
  if (stands?.until === 0) return 'standing'
  return tracker ? 'tracked' : 'untracked'
}

function writeEnding(ending: Ending, vehicle: Vehicle, book: Logbook): void {
  const { unit } = vehicle
  book.checks = book.checks.filter((c) => c.checked_on < -ending.quietDays)
  for (const note of ending.notes) {
    const day = -note.ago
    const odometer_km = kmAt(vehicle, book, day)
    if ('code' in note) {
      const cleared_on = note.clearedAgo === undefined ? null : -note.clearedAgo
      book.codes.push({
        unit,
        seen_on: day,
        odometer_km,
        code: note.code,
        state: 'stored',
        lamp: note.lamp,
        cleared_on,
      })
    } else if ('check' in note) {
      const km_since_cleared = note.sinceClearedKm ?? null
      book.checks.push({
        unit,
        checked_on: day,
        odometer_km,
        kind: note.check,
        seen: note.seen,
        looked_for: '',
        km_since_cleared,
      })
    } else book.repairs.push(repairLine(note, vehicle, day, odometer_km))
  }
  book.codes.sort((a, b) => a.seen_on - b.seen_on)
  book.checks.sort((a, b) => a.checked_on - b.checked_on)
  book.repairs.sort((a, b) => a.done_on - b.done_on)
}

function repairLine(
  note: Extract<Note, { repair: string }>,
  { unit, habits: { paidBy } }: Vehicle,
  day: number,
  km: number,
): RepairLine {
  return {
    ref: `${unit}-E${note.ago}`,
    unit,
    done_on: day,
    entered_on: null,
    odometer_km: km,
    weak_point: note.repair,
    positions: note.positions,
    action: note.action,
    revision: note.revision ?? null,
    found: note.found,
    because: 'sign',
    restored: null,
    parts_cost: null,
    labour_hours: null,
    paid_by: paidBy,
    supplier: null,
    batch: null,
    note: note.note ?? null,
  }
}

/** The odometer on a day: between what was noted about it, beyond the last note at the vehicle's usual rate. */
function kmAt(vehicle: Vehicle, book: Logbook, day: number): number {
  const noted = notedOdometers(book)
  const after = noted.findIndex((note) => note.day >= day)
  const next = noted[after]
  const before = next ? noted[after - 1] : noted.at(-1)
  if (!before) return next?.km ?? 0
  const rate = next ? (next.km - before.km) / (next.day - before.day) : rateNow(vehicle)
  return Math.round(before.km + (day - before.day) * rate)
}

function notedOdometers({ readings, checks, repairs }: Logbook): { day: number; km: number }[] {
  return [
    ...readings.map((r) => ({ day: r.read_on, km: r.odometer_km })),
    ...[...checks.map((c) => ({ ...c, on: c.checked_on })), ...repairs.map((r) => ({ ...r, on: r.done_on }))]
      .filter((line) => line.odometer_km !== null)
      .map((line) => ({ day: line.on, km: line.odometer_km ?? 0 })),
  ].sort((a, b) => a.day - b.day || a.km - b.km)
}

const rateNow = ({ stands, kmPerDay }: Vehicle): number => (stands?.until === 0 ? 0 : kmPerDay)
