import type { Day } from '@/lib/units/dates'
import { isKnownBy } from '../known-by'
import type { ChangeRow } from '../rows'
import type { VehicleRecords } from '../vehicle-records'

/** Why a reading is likely wrong. */
export type OdometerCause =
  | 'roll-back'
  | 'unit mix-up'
  | 'digit slip'
  | 'swapped vehicle'
  | 'cluster replacement'
  | 'second source'
  | 'unexplained'

/** An odometer on record, with what is made of it. */
export interface OdometerPoint {
  day: Day
  /** Distance of the vehicle: as read, with the confirmed offset of a new instrument cluster added. */
  km: number
  /** As it was read. */
  readKm: number
  file: 'readings' | 'codes' | 'checks' | 'repairs' | 'changes' | 'vehicles'
  line: number
  source: string | null
  verdict: 'trusted' | 'same-day' | 'distrusted'
  /** Null unless it is distrusted. */
  cause: OdometerCause | null
}

/** Every odometer of a vehicle known by `upTo`, of whichever file, in order of (day, km); not yet judged. */
export function odometersOnRecord(records: VehicleRecords, upTo: Day): OdometerPoint[] {
  const points: OdometerPoint[] = []
  const add = (
    file: OdometerPoint['file'],
    row: { line: number; enteredOn: Day | null; source?: string | null },
    day: Day | null,
    readKm: number | null,
  ) => {
    if (day === null || readKm === null || !isKnownBy(upTo, day, row.enteredOn)) return
    const source = row.source ?? null
    points.push({ day, km: readKm, readKm, file, line: row.line, source, verdict: 'trusted', cause: null })
  }
  const { vehicle } = records
  add('vehicles', vehicle, vehicle.watchedFromOn, vehicle.watchedFromKm)
  for (const row of records.readings) add('readings', row, row.readOn, row.odometerKm)
  for (const row of records.codes) add('codes', row, row.seenOn, row.odometerKm)
  for (const row of records.checks) add('checks', row, row.checkedOn, row.odometerKm)
  for (const row of records.repairs) add('repairs', row, row.doneOn, row.odometerKm)
  for (const row of records.changes) add('changes', row, row.on, row.odometerKm)
  addOffsets(points.sort(byDayThenKm), knownClusters(records.changes, upTo))
  return points.sort(byDayThenKm)
}

const byDayThenKm = (a: OdometerPoint, b: OdometerPoint): number => a.day - b.day || a.km - b.km

/** Changes of the instrument cluster known by `upTo`, by date. */
export function knownClusters(changes: ChangeRow[], upTo: Day): ChangeRow[] {
  return changes
    .filter((row) => row.kind === 'cluster' && isKnownBy(upTo, row.on, row.enteredOn))
    .sort((a, b) => a.on - b.on)
}

/**
 * Adds to each reading the offsets of the clusters fitted before it. On the very day a reading may come from
 * the old cluster or the new one: it is taken as whichever brings it nearer to the last reading before that
 * day.
 */
function addOffsets(points: OdometerPoint[], clusters: ChangeRow[]): void {
  for (const { on, offsetKm } of clusters) {
    if (offsetKm === null) continue
    const before = points.findLast((point) => point.day < on)
    for (const point of points) {
      const isNew =
        point.day > on ||
        (point.day === on &&
          before !== undefined &&
          Math.abs(point.km + offsetKm - before.km) < Math.abs(point.km - before.km))
      if (isNew) point.km += offsetKm
    }
  }
}
