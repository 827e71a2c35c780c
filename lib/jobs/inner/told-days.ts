import { type Followed, howFollowed } from '@/lib/decisions/advice-followed'
import { isAbout, type KnownThen, knownOf, wouldShow } from '@/lib/decisions/known-of-component'
import type { VehicleRow } from '@/lib/records/rows'
import { dayOfRecord, type OneRecord, type VehicleRecords } from '@/lib/records/vehicle-records'
import { type CameTrue, cameTrue } from '@/lib/replay/came-true'
import type { SaidScore, WorkedOut } from '@/lib/replay/said-before-failure'
import { timelineOf } from '@/lib/scoring/timeline'
import type { KeptScore } from '@/lib/store/read/said-history'
import { type Day, dayIn } from '@/lib/units/dates'
import type { SaidGround } from './said-ground'

/** A chance on a past day with what belongs to it. */
export type Told = SaidScore & {
  /** When it was said; null where it is worked out afterwards. */
  saidAt: Date | null
  known: KnownThen
  /** Looks, codes and works of that time which would have told something, and came in only later. */
  cameLater: number
  /** Whether the advice was followed; null where it asked nothing. */
  followed: Followed | null
  /** How often such chances come true here; null where it is not known. */
  cameTrue: CameTrue | null
}

/** Puts to each score what was known with it, and what came of it. */
export class ToldDays {
  /** @param rows every record of the vehicle as it can be rewound; asked only where days are worked out */
  constructor(
    private readonly ground: SaidGround,
    private readonly rows: OneRecord[],
  ) {}

  /** What was said: known was what lay in the store at that moment, whatever day it was about. */
  ofKept({ scoredAt, ...score }: KeptScore): Told {
    const there = this.ground.versions.filter(
      ({ enteredAt, endedAt }) => enteredAt <= scoredAt && (endedAt === null || endedAt > scoredAt),
    )
    const later = this.ground.versions.filter(
      ({ state, enteredAt, supersedesId }) =>
        state === 'live' && enteredAt > scoredAt && supersedesId === null,
    )
    return this.told(score, scoredAt, {
      known: this.recordsOf(there),
      late: later.filter((record) => dayOfRecord(record) < score.asOf),
      after: later.filter((record) => dayOfRecord(record) >= score.asOf),
    })
  }

  /** What would have been said: known was what was dated and written down by that day. */
  ofWorkedOut({ records, ...score }: WorkedOut): Told {
    const { rows } = this
    return this.told(score, null, {
      known: records,
      late: rows.filter((one) => dayOfRecord(one) <= score.asOf && (one.row.enteredOn ?? 0) > score.asOf),
      after: rows.filter((one) => dayOfRecord(one) > score.asOf),
    })
  }

  private told(
    { asOf, pFail, pLow, pHigh, advice }: SaidScore,
    saidAt: Date | null,
    { known, late, after }: { known: VehicleRecords; late: OneRecord[]; after: OneRecord[] },
  ): Told {
    const { component, repair, replay } = this.ground
    const before = repair.doneOn
    const standing = {
      advice,
      after: this.recordsOf(after.map(inHindsight)),
      before,
      parkedOn: this.parkedSince(asOf),
    }
    return {
      ...{ asOf, pFail, pLow, pHigh, advice, saidAt },
      known: knownOf(known, component, asOf),
      cameLater: this.telling(late, asOf),
      followed: howFollowed(standing, component),
      cameTrue: replay && cameTrue(replay, pFail, saidAt === null ? 'library' : 'product'),
    }
  }

  /** How many of the records tell something of the component. */
  private telling(records: OneRecord[], asOf: Day): number {
    const { component } = this.ground
    return timelineOf(this.recordsOf(records.map(inHindsight)), component.plan, () => 0, null, asOf).filter(
      (event) => isAbout(event, component) || (event.kind === 'look' && wouldShow(event.look, component)),
    ).length
  }

  /** The first day on which it was parked because of this part, of those since a day and up to the failure. */
  private parkedSince(asOf: Day): Day | null {
    const { notices, repair, position, timeZone } = this.ground
    const days = notices
      .filter((notice) => notice.weakPoint === repair.weakPoint && notice.position === position)
      .flatMap(({ parkedAt }) => (parkedAt === null ? [] : dayIn(timeZone, parkedAt)))
      .filter((day) => day >= asOf && day <= repair.doneOn)
    return days.length > 0 ? Math.min(...days) : null
  }

  private recordsOf(records: readonly OneRecord[]): VehicleRecords {
    return gathered(this.ground.vehicle, records)
  }
}

/** Records by kind, as a vehicle has them. */
function gathered(vehicle: VehicleRow, records: readonly OneRecord[]): VehicleRecords {
  const all: VehicleRecords = { vehicle, readings: [], codes: [], checks: [], repairs: [], changes: [] }
  for (const record of records.toSorted((a, b) => dayOfRecord(a) - dayOfRecord(b))) {
    const rows: OneRecord['row'][] = all[record.kind]
    rows.push(record.row)
  }
  return all
}

/** The same, whenever they were written down: who holds them has chosen those that count. */
const inHindsight = (record: OneRecord): OneRecord =>
  ({ ...record, row: { ...record.row, enteredOn: null } }) as OneRecord
