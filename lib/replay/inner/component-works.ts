/** What was done to one component, and the lives that it therefore lived. */
import type { RepairRow } from '@/lib/records/rows'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import type { Day } from '@/lib/units/dates'

/** Which component of a vehicle. */
export interface Place {
  weakPoint: string
  position: number
}

/** A part was opened (and what was found), or the engine around it was changed, or records cease. */
export interface Work {
  day: Day
  found: RepairRow['found']
  /** `look`: nothing was done; `stopgap`: it goes on as it was; `renewal`: a new life; `gap`: nobody saw what was done. */
  kind: 'look' | 'stopgap' | 'renewal' | 'gap'
  /** Whether it was done to the engine as a whole. */
  wholeEngine: boolean
}

const KIND_OF_ACTION: Record<RepairRow['action'], Work['kind']> = {
  inspect: 'look',
  temporary: 'stopgap',
  partial: 'renewal',
  renew: 'renewal',
}

/** Everything done to a component from the day after `after` to `until`, in order. */
export function worksOn(records: VehicleRecords, place: Place, after: Day, until: Day): Work[] {
  const isWithin = (day: Day) => day > after && day <= until
  const repairs = records.repairs
    .filter((row) => isWithin(row.doneOn) && isAbout(row, place))
    .map((row) => ({
      ...{ day: row.doneOn, found: stateFound(row), kind: KIND_OF_ACTION[row.action] },
      wholeEngine: false,
    }))
  const changes = records.changes.flatMap(({ on, kind }): Work[] => {
    if (!isWithin(on)) return []
    if (kind === 'gap-from') return [{ day: on, found: null, kind: 'gap', wholeEngine: true }]
    return kind.startsWith('engine-') ? [{ day: on, found: null, kind: 'renewal', wholeEngine: true }] : []
  })
  return [...repairs, ...changes].sort((a, b) => a.day - b.day)
}

const isAbout = ({ weakPoint, positions }: RepairRow, place: Place): boolean =>
  weakPoint === place.weakPoint && positions.includes(place.position)

const stateFound = ({ found, because }: RepairRow): RepairRow['found'] =>
  found ?? (because === 'failure' ? 'failed' : null)

/** A stretch over which a component was watched at work. */
export interface WatchedLife {
  from: Day
  to: Day
  /** When the part was new; null for the part that came with the engine. */
  newOn: Day | null
  failed: boolean
}

/** The lives of a component from the beginning of the watch to a day; the last one ends there unless it has failed. */
export function watchedLives(records: VehicleRecords, place: Place, from: Day, to: Day): WatchedLife[] {
  const lives: WatchedLife[] = []
  let open: WatchedLife | null = { from, to, newOn: null, failed: false }
  let newOn: Day | null = null
  for (const { day, found, kind } of worksOn(records, place, from - 1, to)) {
    if (kind === 'gap') continue
    if (open && (found === 'failed' || kind === 'renewal')) {
      lives.push({ ...open, to: day, failed: found === 'failed' })
      open = null
    }
    if (kind === 'look') continue
    if (kind === 'renewal') newOn = day
    open ??= { from: day, to, newOn, failed: false }
  }
  return open ? [...lives, open] : lives
}

/** Whether a component was at work on a day: not failed and waiting for its repair. */
export function isAtWork(records: VehicleRecords, place: Place, on: Day): boolean {
  const last = worksOn(records, place, Number.NEGATIVE_INFINITY, on).findLast(
    ({ found, kind }) => found === 'failed' || kind !== 'look',
  )
  return last?.found !== 'failed' || last.kind !== 'look'
}
