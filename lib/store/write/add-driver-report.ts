import type { DriverReport } from '@/lib/records/driver-report'
import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

/** So many of one vehicle may wait at once: whoever sends more is no driver, or ought to telephone. */
const MOST_WAITING = 40

export type ReportKept = { ok: true; id: string } | { ok: false; reason: 'not-found' | 'too-many-wait' }

/** Keeps what a driver reports of a vehicle; it counts for nothing until it is confirmed. */
export async function addDriverReport(
  { tx, organisation }: OrganisationScope,
  unit: string,
  { kind, words, odometerKm, driver }: DriverReport,
  now: Date,
): Promise<ReportKept> {
  // Whoever else reports of this vehicle waits, so that the count holds.
  const [vehicle] = await tx.$queryRaw<{ id: string }[]>`
    select id::text from vehicles where unit = ${unit} and withdrawn_at is null for no key update`
  if (!vehicle) return { ok: false, reason: 'not-found' }
  const [waiting] = await tx.$queryRaw<{ count: number }[]>`
    select count(*)::int as count from driver_reports report
    where report.vehicle_id = ${vehicle.id}::uuid and not exists (
      select from driver_report_acts act where act.report_id = report.id and act.undone_at is null)`
  if ((waiting?.count ?? 0) >= MOST_WAITING) return { ok: false, reason: 'too-many-wait' }
  const id = newId(now)
  await tx.$executeRaw`
    insert into driver_reports (organisation_id, id, vehicle_id, kind, words, odometer_km, driver, received_at)
    values (${organisation}::uuid, ${id}::uuid, ${vehicle.id}::uuid, ${kind}, ${words}, ${odometerKm}, ${driver}, ${now})`
  return { ok: true, id }
}
