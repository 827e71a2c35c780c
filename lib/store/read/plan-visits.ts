import type { RepairRow } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'

/** A job of a visit, as far as it is kept with it. */
export type VisitedJob = { id: string; weakPoint: string; positions: number[] }

/** A visit as its row has it. */
export type PlanVisitRow = {
  id: string
  vehicleId: string
  /** The Monday of its week. */
  weekOn: Day
  bay: number
  hours: number
  gain: number
  jobs: VisitedJob[]
  /** A person has said so. */
  pinned: boolean
  /** The Monday that somebody was promised, whatever became of it. */
  promisedOn: Day | null
  promisedWhom: string | null
  doneOn: Day | null
  madeAt: Date
  madeBy: string | null
}

/** Work on record since the visit was planned. */
export type VisitWork = Pick<RepairRow, 'weakPoint' | 'positions' | 'doneOn' | 'found'>

/** A visit with whose it is and what was done since. */
export type StoredVisit = PlanVisitRow & {
  unit: string
  plate: string | null
  customer: string | null
  family: string
  works: VisitWork[]
}

const EPOCH = `date '1970-01-01'`
export const VISIT_COLUMNS = `visit.id::text, visit.vehicle_id::text as "vehicleId", visit.week_on - ${EPOCH} as "weekOn",
  visit.bay, visit.hours, visit.gain, visit.jobs, visit.pinned, visit.promised_on - ${EPOCH} as "promisedOn",
  visit.promised_whom as "promisedWhom", visit.done_on - ${EPOCH} as "doneOn", visit.made_at as "madeAt",
  visit.made_by::text as "madeBy"`

/** For so long a visit that is done is told, if nobody writes up what was found. */
const DONE_DAYS = 180

/**
 * Visits on the plan in the order of weeks and bays: those that are open, and those done in the last half year.
 *
 * @param today in the organisation's time zone
 */
export async function readPlanVisits({ tx }: OrganisationScope, today: Day): Promise<StoredVisit[]> {
  return tx.$queryRawUnsafe<StoredVisit[]>(
    `select ${VISIT_COLUMNS}, vehicle.unit, vehicle.plate, vehicle.customer, vehicle.family, works.list as works
     from plan_visits visit
       join vehicles vehicle on vehicle.id = visit.vehicle_id and vehicle.withdrawn_at is null
       cross join lateral (
         select coalesce(json_agg(json_build_object('weakPoint', repair.weak_point, 'positions', repair.positions,
           'doneOn', repair.done_on - ${EPOCH}, 'found', repair.found) order by repair.done_on), '[]') as list
         from repairs repair
         where repair.vehicle_id = vehicle.id and repair.superseded_at is null and repair.withdrawn_at is null
           and repair.done_on >= visit.made_at::date) works
     where visit.done_on is null or visit.done_on - ${EPOCH} > $1::int
     order by visit.week_on, visit.bay, visit.gain desc, visit.id`,
    today - DONE_DAYS,
  )
}
