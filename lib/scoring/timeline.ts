/** A vehicle's records as one sequence of events: readings, codes and checks before repairs, in file order. */

import { isKnownBy } from '@/lib/records/known-by'
import type { ChangeRow, CheckRow, CodeRow, RepairRow, SignAt } from '@/lib/records/rows'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import type { Day } from '@/lib/units/dates'
import { type EnginePlan, LAMP_ON } from './engine-plan'
import type { Look } from './looks'

export type VehicleEvent =
  | { kind: 'watch'; day: Day }
  | { kind: 'look'; day: Day; look: Look; check: CheckRow['kind'] | null }
  | { kind: 'repair'; day: Day; repair: RepairRow }
  | { kind: 'change'; day: Day; change: ChangeRow }

const RANK = { watch: 0, look: 1, repair: 2, change: 3 } as const

/** After codes were cleared, a scan's silence counts in full only this much farther on (common practice, no source). */
const KM_UNTIL_SILENCE_COUNTS = 160

/** Everything on record up to the as-of date, in order. */
export function timelineOf(
  records: VehicleRecords,
  plan: EnginePlan,
  kmAt: (day: Day) => number,
  watchedFrom: Day | null,
  asOf: Day,
): VehicleEvent[] {
  const codes = records.codes.filter((row) => isKnownBy(asOf, row.seenOn, row.enteredOn))
  const codesOn = signsByDay(codes, plan)
  const events: VehicleEvent[] = [
    ...(watchedFrom === null ? [] : [{ kind: 'watch' as const, day: watchedFrom }]),
    ...codes.flatMap((row) => codeLook(row, plan, kmAt)),
    ...records.checks
      .filter((row) => isKnownBy(asOf, row.checkedOn, row.enteredOn))
      .map((row) => checkLook(row, plan, kmAt, codesOn.get(row.checkedOn) ?? new Set())),
    ...records.repairs
      .filter((row) => isKnownBy(asOf, row.doneOn, row.enteredOn))
      .map((repair) => ({ kind: 'repair' as const, day: repair.doneOn, repair })),
    ...records.changes
      .filter((row) => isKnownBy(asOf, row.on, row.enteredOn))
      .map((change) => ({ kind: 'change' as const, day: change.on, change })),
  ]
  // Array.sort is stable: file order holds within a day and kind.
  return events.sort((a, b) => a.day - b.day || RANK[a.kind] - RANK[b.kind])
}

function signOfCode(row: CodeRow, plan: EnginePlan): number | null {
  const known = plan.signOfCode(row.code)
  return known ? plan.sighting(known.sign, known.position) : null
}

function signsByDay(codes: CodeRow[], plan: EnginePlan): Map<Day, Set<number>> {
  const byDay = new Map<Day, Set<number>>()
  for (const row of codes) {
    const sign = signOfCode(row, plan)
    if (sign !== null) byDay.set(row.seenOn, (byDay.get(row.seenOn) ?? new Set()).add(sign))
  }
  return byDay
}

/** A code counts as a look of its own that saw that sign. A code the family does not know has no effect. */
function codeLook(row: CodeRow, plan: EnginePlan, kmAt: (day: Day) => number): VehicleEvent[] {
  const sign = signOfCode(row, plan)
  if (sign === null) return []
  const look: Look = {
    day: row.seenOn,
    km: kmAt(row.seenOn),
    seen: [sign],
    lookedFor: [],
    share: 1,
    permanent: row.state === 'permanent',
    clearedOn: row.clearedOn,
  }
  return [{ kind: 'look', day: row.seenOn, look, check: null }]
}

function checkLook(
  row: CheckRow,
  plan: EnginePlan,
  kmAt: (day: Day) => number,
  codesThatDay: Set<number>,
): VehicleEvent {
  const seen = row.seen.flatMap((at) => plan.sighting(at.sign, at.position) ?? [])
  const there = [...seen, ...codesThatDay]
  const present = new Set([...there, ...there.flatMap((i) => plan.signs[i]!.members)])
  const asked =
    row.lookedFor === null ? plan.lookedForBy[row.kind] : row.lookedFor.flatMap((at) => asPlaces(at, plan))
  const look: Look = {
    day: row.checkedOn,
    km: kmAt(row.checkedOn),
    seen,
    lookedFor: asked.filter((sign) => !present.has(sign)),
    share: row.kmSinceCleared === null ? 1 : Math.min(1, row.kmSinceCleared / KM_UNTIL_SILENCE_COUNTS),
    permanent: false,
    clearedOn: null,
  }
  return { kind: 'look', day: row.checkedOn, look, check: row.kind }
}

/** Looking for "lamp on" and not seeing it is looking for each sign that lights the lamp. */
const asPlaces = (at: SignAt, plan: EnginePlan): number[] =>
  at.sign === LAMP_ON ? plan.lookedForBy.lamp : plan.placesOf(at.sign, at.position)
