import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

type By = { now: Date; by: string }

/** What a person of the workshop makes of a driver's report. */
export type AnswerToReport = { act: 'confirmed' } | { act: 'set-aside'; reason: string }

/** Keeps others from answering a report until the end of the transaction. */
export async function holdDriverReport({ tx }: OrganisationScope, report: string): Promise<void> {
  await tx.$queryRaw`select from driver_reports where id = ${report}::uuid for no key update`
}

/**
 * Notes what becomes of a report that waits, with who said so.
 *
 * @returns false where there is none, or somebody has answered it already
 */
export async function answerDriverReport(
  { tx, organisation }: OrganisationScope,
  report: string,
  answer: AnswerToReport,
  { now, by }: By,
): Promise<boolean> {
  const reason = answer.act === 'set-aside' ? answer.reason : null
  const added = await tx.$executeRaw`
    insert into driver_report_acts (organisation_id, id, report_id, act, reason, at, by)
    select ${organisation}::uuid, ${newId(now)}::uuid, report.id, ${answer.act}, ${reason}, ${now}, ${by}::uuid
    from driver_reports report where report.id = ${report}::uuid
    on conflict (organisation_id, report_id) where undone_at is null do nothing`
  return added > 0
}

/**
 * Takes an answer back; it stays to be seen, and the report waits again.
 *
 * @param act the answer's id
 * @returns false where it does not stand any more
 */
export async function undoReportAnswer(
  { tx }: OrganisationScope,
  act: string,
  { now, by }: By,
): Promise<boolean> {
  const undone = await tx.$executeRaw`
    update driver_report_acts set undone_at = ${now}, undone_by = ${by}::uuid
    where id = ${act}::uuid and undone_at is null`
  return undone > 0
}
