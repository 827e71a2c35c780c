import type { Day } from '@/lib/units/dates'
import type { Family } from './library'
import type { CheckRow, CodeRow, RepairRow, SignAt } from './rows'
import type { VehicleRecords } from './vehicle-records'

/** What is on record of the engine that is in a vehicle now; nothing of one that was there before. */
export interface EngineStory {
  /** Since when it is in; null: since the vehicle was built, or nobody has written down since when. */
  since: Day | null
  codes: CodeRow[]
  checks: CheckRow[]
  repairs: RepairRow[]
}

/** A rebuilt engine counts as another one, as it does for the scores. */
const OTHER_ENGINE: readonly string[] = ['engine-new', 'engine-used', 'engine-rebuilt']

export function engineStory({ changes, codes, checks, repairs }: VehicleRecords): EngineStory {
  const since = changes.findLast(({ kind }) => OTHER_ENGINE.includes(kind))?.on ?? null
  const isOwn = (day: Day) => since === null || day >= since
  return {
    since,
    codes: codes.filter(({ seenOn }) => isOwn(seenOn)),
    checks: checks.filter(({ checkedOn }) => isOwn(checkedOn)),
    repairs: repairs.filter(({ doneOn }) => isOwn(doneOn)),
  }
}

/** Something on record that is wrong and that no later record has settled. */
export type KnownFault =
  | { kind: 'sign'; sign: SignAt; on: Day }
  | { kind: 'part'; repair: RepairRow; on: Day }
  | { kind: 'code'; code: CodeRow; on: Day }

/**
 * The faults of an engine that are known: rather one too many than one too few, for a buyer may have to be told. A sign
 * is settled when a part that causes it is replaced or freshened, or a later look looked for that very sign and did not
 * see it; a part that was found failed or going, or had a quick fix, when it is replaced or freshened; a code when it
 * was cleared and not read again.
 *
 * @returns the latest first
 */
export function knownFaults(story: EngineStory, family: Family | null): KnownFault[] {
  return [...signFaults(story, family), ...partFaults(story), ...codeFaults(story)].sort(
    (a, b) => b.on - a.on,
  )
}

const isMended = ({ action }: RepairRow) => action === 'renew' || action === 'partial'

/** Whether two places may be the same; none said may be any. */
const mayBeSame = (positions: readonly number[], position: number | null) =>
  position === null || positions.length === 0 || positions.includes(position)

function signFaults({ checks, repairs }: EngineStory, family: Family | null): KnownFault[] {
  const last = new Map<string, { sign: SignAt; on: Day }>()
  for (const { seen, checkedOn } of checks)
    for (const sign of seen) last.set(`${sign.sign}@${sign.position}`, { sign, on: checkedOn })
  return [...last.values()].flatMap(({ sign, on }) => {
    const causes = family?.signs.find(({ key }) => key === sign.sign)?.causes ?? []
    const isSettled =
      repairs.some(
        (each) =>
          isMended(each) &&
          each.doneOn >= on &&
          mayBeSame(each.positions, sign.position) &&
          causes.some(({ weakPoint }) => weakPoint === each.weakPoint),
      ) || checks.some((each) => each.checkedOn > on && wasLookedFor(each, sign))
    return isSettled ? [] : { kind: 'sign' as const, sign, on }
  })
}

const wasLookedFor = ({ lookedFor }: CheckRow, { sign, position }: SignAt) =>
  lookedFor?.some((at) => at.sign === sign && (at.position === null || at.position === position)) ?? false

function partFaults({ repairs }: EngineStory): KnownFault[] {
  return repairs.flatMap((repair, i) => {
    const { found, action, weakPoint, positions, doneOn } = repair
    const isWrong =
      !isMended(repair) && (action === 'temporary' || found === 'failed' || found === 'developing')
    const isSettled = repairs
      .slice(i + 1)
      .some(
        (each) =>
          each.weakPoint === weakPoint &&
          (isMended(each) || each.found === 'sound') &&
          (each.positions.length === 0 ||
            (positions.length > 0 && positions.every((position) => each.positions.includes(position)))),
      )
    return isWrong && !isSettled ? { kind: 'part' as const, repair, on: doneOn } : []
  })
}

function codeFaults({ codes }: EngineStory): KnownFault[] {
  const last = new Map(codes.map((each) => [each.code, each]))
  return [...last.values()].flatMap((code) =>
    code.clearedOn === null ? { kind: 'code' as const, code, on: code.seenOn } : [],
  )
}
