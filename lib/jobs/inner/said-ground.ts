/** What is read from the store to tell what was said of a part that failed. */
import { type PlacedComponent, placedComponent } from '@/lib/decisions/known-of-component'
import type { Family, Library } from '@/lib/records/library'
import type { RepairRow, VehicleRow } from '@/lib/records/rows'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import type { Replay } from '@/lib/replay/replay'
import { daysBefore } from '@/lib/replay/said-before-failure'
import { HISTORY_HORIZON_DAYS } from '@/lib/store/horizons'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readRecords } from '@/lib/store/read/records'
import { type KeptScore, readSaidHistory } from '@/lib/store/read/said-history'
import { readSettings } from '@/lib/store/read/settings'
import { readStopNotices, type StopNotice } from '@/lib/store/read/stop-notices'
import { readTrackRecord } from '@/lib/store/read/track-record'
import { readVehicleRecords, type VehicleRecord } from '@/lib/store/read/vehicle-records'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { knownReplay } from '../known-replay'

/** `repair`: the id of its record; `position` null: the first that failed. */
export type AskedFailure = { unit: string; repair: string; position: number | null }

/** Everything that is read from the store, so that the database need not wait for what is worked out. */
export type SaidGround = {
  repair: RepairRow
  position: number
  component: PlacedComponent
  vehicle: VehicleRow
  /** Every version of every record of the vehicle. */
  versions: VehicleRecord[]
  notices: StopNotice[]
  timeZone: string
  kept: KeptScore[]
  library: Library
  /** Which library and settings are in force. */
  restsOn: string
  /** The days that are to be worked out. */
  days: Day[]
  /** One of this horizon. */
  replay: Replay | null
}

/** @returns null where there is no such failure that counts, of a part that the library knows */
export async function readSaidGround(
  scope: OrganisationScope,
  { unit, repair, position }: AskedFailure,
): Promise<SaidGround | null> {
  const versions = await readVehicleRecords(scope, unit)
  const failure = versions.find(({ kind, id }) => kind === 'repairs' && id === repair)
  const known = await readKnownLibrary(scope)
  const [own] = groupByVehicle(await readRecords(scope, [unit]))
  if (failure?.kind !== 'repairs' || failure.state !== 'live' || failure.row.found !== 'failed') return null
  const family = known?.library.families.find(({ key }) => key === own?.vehicle.family)
  if (!known || !family || !own) return null
  const { weakPoint, doneOn } = failure.row
  const at = positionOf(failure.row, family, position)
  const component =
    at === null ? null : placedComponent(family, own.vehicle.variant, { weakPoint, position: at })
  if (at === null || !component) return null
  const kept = await readSaidHistory(scope, { unit, weakPoint, position: at, before: doneOn })
  const first = kept[0]?.asOf ?? doneOn
  const settings = await readSettings(scope)
  const days = daysBefore(doneOn).filter((day) => day < first)
  return {
    ...{ repair: failure.row, position: at, component, versions, kept, days },
    vehicle: own.vehicle,
    library: known.library,
    notices: await readStopNotices(scope, { unit }),
    timeZone: settings.timeZone,
    restsOn: JSON.stringify([known.version, settings]),
    replay: await replayOfHorizon(scope),
  }
}

/** The position that is asked for, of those that failed, or of all where it was not written down which. */
function positionOf(
  { weakPoint, positions }: RepairRow,
  family: Family,
  asked: number | null,
): number | null {
  const count = family.weakPoints.find(({ key }) => key === weakPoint)?.positions ?? 0
  const all = positions.length > 0 ? positions : Array.from({ length: count }, (_, i) => i + 1)
  return all.find((each) => asked === null || each === asked) ?? null
}

async function replayOfHorizon(scope: OrganisationScope): Promise<Replay | null> {
  const { latest } = await readTrackRecord(scope)
  const replay = latest && (await knownReplay(scope, latest.id))
  return replay?.days === HISTORY_HORIZON_DAYS ? replay : null
}
