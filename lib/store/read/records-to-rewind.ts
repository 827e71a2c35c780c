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
 * whatever the row says; a row of a file or from a machine when it says, or else on its own day.
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

async function readKind<Kind extends RecordKind>(
  scope: OrganisationScope,
  kind: Kind,
  timeZone: string,
): Promise<{ live: Records[Kind]; former: FormerRows[Kind] }> {
  const ended = 'coalesce(record.superseded_at, record.withdrawn_at)'
  const rowsWhere = <Rows>(condition: string, more = '') =>
    scope.tx.$queryRawUnsafe<Rows>(
      `select vehicle.unit, ${selection(RECORD_COLUMNS[kind], 'record')},
         case when record.supersedes_id is not null or ${typed('record')} then ${writtenOn('record')}
           else record.entered_on - ${EPOCH} end as "enteredOn"${more}
       from ${kind} record join vehicles vehicle on vehicle.id = record.vehicle_id
       where vehicle.withdrawn_at is null and ${condition} order by record.sequence, record.entered_at, record.id`,
      timeZone,
    )
  return {
    live: await rowsWhere<Records[Kind]>(`${ended} is null`),
    former: await rowsWhere<FormerRows[Kind]>(`${ended} is not null`, `, ${dayOf(ended)} as "endedOn"`),
  }
}
