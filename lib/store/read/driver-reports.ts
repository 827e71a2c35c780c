import type { DriverReport } from '@/lib/records/driver-report'
import { Prisma } from '@/prisma/client/client'
import type { OrganisationScope } from '../with-organisation'
import { readMergedInto } from './merged-into'

/** What became of a report: the act that stands. */
export type ReportAnswer = {
  id: string
  act: 'confirmed' | 'set-aside'
  reason: string | null
  at: Date
  by: string | null
  byName: string | null
}

/** A driver's report, and what became of it; null while it waits. */
export type StoredReport = DriverReport & {
  id: string
  unit: string
  receivedAt: Date
  answer: ReportAnswer | null
}

/** Which: those that wait, those answered last, the waiting ones of one vehicle, or one. */
export type ReportsWanted =
  | { waiting: true; most: number }
  | { answered: true; most: number }
  | { waitingOf: string }
  | { id: string }

type Found = StoredReport & { gone: boolean }

const { sql } = Prisma

function wantedRows(wanted: ReportsWanted): Prisma.Sql {
  if ('id' in wanted) return sql`report.id = ${wanted.id}::uuid`
  if ('waitingOf' in wanted) return sql`vehicle.unit = ${wanted.waitingOf} and act.id is null`
  return 'waiting' in wanted ? sql`act.id is null` : sql`act.id is not null`
}

/** Reports, the latest first; those answered by when they were answered. */
export async function readDriverReports(
  scope: OrganisationScope,
  wanted: ReportsWanted,
): Promise<StoredReport[]> {
  const most = 'most' in wanted ? wanted.most : 100
  const found = await scope.tx.$queryRaw<Found[]>`
    select report.id::text, vehicle.unit, vehicle.withdrawn_at is not null as gone, report.kind, report.words,
      report.odometer_km as "odometerKm", report.driver, report.received_at as "receivedAt",
      case when act.id is not null then jsonb_build_object('id', act.id, 'act', act.act, 'reason', act.reason,
        'at', act.at, 'by', act.by, 'byName', person.name) end as answer
    from driver_reports report join vehicles vehicle on vehicle.id = report.vehicle_id
      left join driver_report_acts act on act.report_id = report.id and act.undone_at is null
      left join people person on person.id = act.by
    where ${wantedRows(wanted)}
    order by coalesce(act.at, report.received_at) desc, report.id desc limit ${most}`
  const reports: StoredReport[] = []
  for (const { gone, ...report } of found)
    reports.push({
      ...report,
      // A vehicle that was made one with another goes on there, and so does what was said of it.
      unit: gone ? ((await readMergedInto(scope, report.unit)) ?? report.unit) : report.unit,
      answer: report.answer && { ...report.answer, at: new Date(report.answer.at) },
    })
  return reports
}

/** How many reports wait to be confirmed. */
export async function countWaitingReports({ tx }: OrganisationScope): Promise<number> {
  const [found] = await tx.$queryRaw<{ count: number }[]>`
    select count(*)::int as count from driver_reports report where not exists (
      select from driver_report_acts act where act.report_id = report.id and act.undone_at is null)`
  return found?.count ?? 0
}
