import type { Records } from '@/lib/records/rows'
import type { FormerRows, PastRecords } from '@/lib/replay/records-as-of'
import { selection } from '../inner/columns'
import { RECORD_COLUMNS, type RecordKind, VEHICLE_COLUMNS } from '../inner/record-tables'
import type { OrganisationScope } from '../with-organisation'
import { readSettings } from './settings'

/**
 * The records of the organisation as they can be rewound: the live ones in the order of first arrival, each with the
 * day on which it was written down, and those that were corrected or withdrawn later, with the day on which they were.
 *
 * What a person typed was written down when it was typed, and a version that took another's place when it did,
 * whatever the row says; a row of a file or from a machine when it says, or else on its own day: a file tells history.
 * What no longer counts tells none: it stood from the day on which it was written down, never before. Before the first
 * version of a file's row came, its latest stands, so that a history that was brought in wrong and then right is there
 * once, and right.
 */
export async function readRecordsToRewind(scope: OrganisationScope): Promise<PastRecords> {
  const settings = await readSettings(scope)
  const vehicles = await scope.tx.$queryRawUnsafe<Records['vehicles']>(
    `select unit, ${selection(VEHICLE_COLUMNS, 'vehicle')},
       case when ${typed('vehicle')} then ${writtenOn('vehicle')} else vehicle.entered_on - ${EPOCH} end as "enteredOn"
     from vehicles vehicle where vehicle.withdrawn_at is null order by vehicle.sequence`,
    settings.timeZone,
  )
  const ofKind = <Kind extends RecordKind>(kind: Kind) => readKind(scope, kind, settings.timeZone)
  const [readings, codes, checks] = [await ofKind('readings'), await ofKind('codes'), await ofKind('checks')]
  const [repairs, changes] = [await ofKind('repairs'), await ofKind('changes')]
  return {
    vehicles,
    readings: readings.live,
    codes: codes.live,
    checks: checks.live,
    repairs: repairs.live,
    changes: changes.live,
    settings,
    former: {
      readings: readings.former,
      codes: codes.former,
      checks: checks.former,
      repairs: repairs.former,
      changes: changes.former,
    },
  }
}

const EPOCH = `date '1970-01-01'`
/** On which day of the organisation a moment lies. */
const dayOf = (moment: string) => `(${moment} at time zone $1)::date - ${EPOCH}`
const typed = (table: string) =>
  `${table}.intake_id is null and exists (select from people where people.id = ${table}.entered_by)`
/** What the row says itself may be later, never earlier. */
const writtenOn = (table: string) =>
  `greatest(${table}.entered_on - ${EPOCH}, ${dayOf(`${table}.entered_at`)})`

const ENDED = 'coalesce(record.superseded_at, record.withdrawn_at)'

async function readKind<Kind extends RecordKind>(
  { tx }: OrganisationScope,
  kind: Kind,
  timeZone: string,
): Promise<{ live: Records[Kind]; former: FormerRows[Kind] }> {
  const columns = `vehicle.unit, ${selection(RECORD_COLUMNS[kind], 'record')}`
  const ofVehicle = 'join vehicles vehicle on vehicle.id = record.vehicle_id and vehicle.withdrawn_at is null'
  const live = await tx.$queryRawUnsafe<Records[Kind]>(
    `select ${columns},
       case when record.supersedes_id is not null or ${typed('record')} then ${writtenOn('record')}
         else record.entered_on - ${EPOCH} end as "enteredOn"
     from ${kind} record ${ofVehicle}
     where ${ENDED} is null order by record.sequence, record.entered_at, record.id`,
    timeZone,
  )
  const former = await tx.$queryRawUnsafe<FormerRows[Kind]>(
    `with record as (${VERSIONS(kind)})
     select ${columns},
       case when ended_at is null then record.entered_on - ${EPOCH} else ${writtenOn('record')} end as "enteredOn",
       ${dayOf('coalesce(ended_at, arrived_at)')} as "endedOn"
     from record ${ofVehicle}
     where case when ended_at is null then record.supersedes_id is not null and not was_typed
       else coalesce(outlived_until <= ended_at, true) end
     order by record.sequence, record.entered_at, record.id`,
    timeZone,
  )
  return { live, former }
}

/**
 * All versions of what has been corrected or withdrawn: when each ended, when the first came and whether a person typed
 * it, and until when those before it stood. One that these outlived was undone: it is as if it had never been there, for
 * what stands again would stand beside it.
 */
const VERSIONS = (kind: RecordKind) => `
  select record.*, ${ENDED} as ended_at, first_value(record.entered_at) over versions as arrived_at,
    first_value(${typed('record')}) over versions as was_typed,
    max(coalesce(${ENDED}, 'infinity')) over (versions rows between unbounded preceding and 1 preceding)
      as outlived_until
  from ${kind} record
  where record.sequence in (select sequence from ${kind} record where ${ENDED} is not null)
  window versions as (partition by record.sequence order by record.entered_at, record.id)`
