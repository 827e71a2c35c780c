import type { Vehicle } from './fleet'
import type { CheckLine, Logbook, RepairLine } from './rows'

/** A short written ending: what was noted about one vehicle in its last days, `ago` days before the end. */
type Ending = {
  family: string
  tracker: boolean
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

/** The watchlist must have these to show whatever the dice did; everything else is left to the simulation. */
const ENDINGS: Ending[] = [
  {
    family: 'plover-16',
    tracker: true,
    quietDays: 90,
    minKm: 70000,
    notes: [
      { ago: 76, code: 'P0303', lamp: 'yes', clearedAgo: 73 },
      { ago: 73, repair: 'spark-plug', positions: 'all', action: 'renew', found: null, note: 'plugs first' },
      { ago: 51, code: 'P0303', lamp: 'yes', clearedAgo: 49 },
      { ago: 49, repair: 'ignition-coil', positions: '3', action: 'renew', found: 'sound', revision: 'mk2' },
      { ago: 48, check: 'scan', seen: '', sinceClearedKm: 31 },
      { ago: 8, code: 'P0303', lamp: 'yes' },
    ],
  },
  {
    family: 'plover-16',
    tracker: false,
    quietDays: 75,
    minKm: 60000,
    notes: [
      { ago: 66, check: 'report', seen: 'lamp-on' },
      { ago: 61, code: 'P0302', lamp: 'yes', clearedAgo: 61 },
      { ago: 61, repair: 'ignition-coil', positions: '2', action: 'renew', found: 'sound', revision: 'mk2' },
      { ago: 35, code: 'P0302', lamp: 'yes', clearedAgo: 35 },
      {
        ago: 35,
        repair: 'spark-plug',
        positions: 'all',
        action: 'renew',
        found: 'sound',
        note: 'misfire is back',
      },
      { ago: 5, check: 'report', seen: 'lamp-on' },
      { ago: 3, check: 'scan', seen: 'misfire@2' },
      { ago: 3, code: 'P0302', lamp: 'yes' },
    ],
  },
  {
    family: 'plover-16',
    tracker: true,
    quietDays: 60,
    minKm: 90000,
    notes: [
      { ago: 24, check: 'scan', seen: 'cam-timing' },
      { ago: 24, code: 'P0011', lamp: 'no' },
      { ago: 1, code: 'P0016', lamp: 'yes' },
    ],
  },
  {
    family: 'knot-82',
    tracker: true,
    quietDays: 45,
    minKm: 90000,
    notes: [{ ago: 0, code: '100:1', lamp: 'yes' }],
  },
  {
    family: 'dunlin-20',
    tracker: false,
    quietDays: 50,
    minKm: 90000,
    notes: [
      { ago: 11, check: 'scan', seen: 'soot-load' },
      { ago: 11, code: 'P2463', lamp: 'no' },
    ],
  },
  {
    family: 'plover-16',
    tracker: false,
    quietDays: 120,
    minKm: 90000,
    notes: [
      { ago: 340, check: 'report', seen: 'wastegate-rattle' },
      {
        ago: 331,
        repair: 'wastegate',
        positions: 'all',
        action: 'temporary',
        found: 'developing',
        revision: 'clip',
      },
      { ago: 16, check: 'report', seen: 'wastegate-rattle' },
      { ago: 9, check: 'road', seen: 'wastegate-rattle' },
    ],
  },
  {
    family: 'dunlin-20',
    tracker: true,
    quietDays: 45,
    minKm: 60000,
    notes: [{ ago: 4, check: 'lamp', seen: 'lamp-on' }],
  },
  {
    family: 'plover-16',
    tracker: false,
    quietDays: 60,
    minKm: 80000,
    notes: [
      { ago: 26, check: 'visual', seen: 'oil-front' },
      { ago: 26, check: 'scan', seen: '' },
    ],
  },
]

/**
 * Writes every ending into the book of the first vehicle that has been quiet for long enough.
 *
 * @returns the units that carry one.
 * @throws where no vehicle fits: the simulation was changed and the endings must be looked at again.
 */
export function writeEndings(fleet: readonly Vehicle[], books: readonly Logbook[]): string[] {
  const taken: Vehicle[] = []
  const pairs = fleet.map((vehicle, i) => ({ vehicle, book: books[i]! }))
  const knownFromNew = pairs.filter(({ vehicle }) => vehicle.origin === 'new')
  for (const ending of ENDINGS) {
    const free = ({ vehicle, book }: (typeof pairs)[number]) =>
      !taken.includes(vehicle) && fits(ending, vehicle, book)
    const chosen = knownFromNew.find(free) ?? pairs.find(free)
    if (!chosen) throw new Error(`no quiet ${ending.family} for an ending of ${ending.quietDays} days`)
    taken.push(chosen.vehicle)
    writeEnding(ending, chosen.vehicle, chosen.book)
  }
  return taken.map((vehicle) => vehicle.unit)
}

function fits(ending: Ending, vehicle: Vehicle, book: Logbook): boolean {
  const since = -ending.quietDays
  const first = Math.min(...ending.notes.map((note) => -note.ago))
  const plain =
    vehicle.leaves === null &&
    vehicle.standsFrom === null &&
    vehicle.season === 'even' &&
    vehicle.variant !== null
  if (!plain || vehicle.oldInvoices || vehicle.newClusterOn !== null || vehicle.papersLost) return false
  if (vehicle.familyKey !== ending.family || (vehicle.tracker !== null) !== ending.tracker) return false
  if (vehicle.firstDay > first - 400 || kmAt(vehicle, book, 0) < ending.minKm) return false
  const rising = book.readings.every((r, i) => i === 0 || r.odometer_km >= book.readings[i - 1]!.odometer_km)
  const stirred =
    book.codes.some((c) => c.seen_on >= since) ||
    book.repairs.some((r) => r.done_on >= since && r.weak_point !== 'other') ||
    book.checks.some((c) => c.checked_on >= since && c.seen !== '')
  return rising && !stirred
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
    } else book.repairs.push(repairLine(note, unit, day, odometer_km))
  }
  book.codes.sort((a, b) => a.seen_on - b.seen_on)
  book.checks.sort((a, b) => a.checked_on - b.checked_on)
  book.repairs.sort((a, b) => a.done_on - b.done_on)
}

function repairLine(
  note: Extract<Note, { repair: string }>,
  unit: string,
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
    paid_by: 'own',
    supplier: null,
    batch: null,
    note: note.note ?? null,
  }
}

/** The odometer on a day: between the readings about it, beyond the last one at the vehicle's usual rate. */
function kmAt(vehicle: Vehicle, book: Logbook, day: number): number {
  const after = book.readings.findIndex((r) => r.read_on >= day)
  const next = book.readings[after]
  const before = next ? book.readings[after - 1] : book.readings.at(-1)
  if (!before) return next?.odometer_km ?? 0
  const passed = day - before.read_on
  const rate = next
    ? (next.odometer_km - before.odometer_km) / (next.read_on - before.read_on)
    : vehicle.kmPerDay
  return Math.round(before.odometer_km + passed * rate)
}
