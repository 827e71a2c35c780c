import { readDriverReports } from '@/lib/store/read/driver-reports'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import {
  answerDriverReport,
  holdDriverReport,
  undoReportAnswer,
} from '@/lib/store/write/answer-driver-report'
import { takeBackEntry } from '@/lib/store/write/take-back-entry'
import { type EnteredTyped, enterTyped, type Typed } from '../vehicles/[unit]/enter-typed'

type Answering = { report: string; now: Date; by: string }

/** What became of it; where nothing was entered, why. */
export type ConfirmedReport = EnteredTyped | { ok: false; reason: 'answered' }

/** Enters what a driver reported as a check of what they noticed, and notes that it was confirmed, in one transaction. */
export async function confirmIn(
  scope: OrganisationScope,
  { report, ...by }: Answering,
  typed: Pick<Typed, 'fields' | 'sure'>,
): Promise<ConfirmedReport> {
  await holdDriverReport(scope, report)
  const [found] = await readDriverReports(scope, { id: report })
  if (!found || found.answer !== null) return { ok: false, reason: 'answered' }
  const entered = await enterTyped(scope, { ...typed, unit: found.unit, kind: 'report' }, by)
  if (entered.ok) await answerDriverReport(scope, report, { act: 'confirmed' }, by)
  return entered
}

/**
 * Takes the answer to a report back, whoever gave it, with the check that it entered.
 *
 * @returns the vehicles whose records it touches
 */
export async function reopenIn(
  scope: OrganisationScope,
  { report, now, by }: Answering,
): Promise<{ touched: string[] }> {
  await holdDriverReport(scope, report)
  const [found] = await readDriverReports(scope, { id: report })
  const answer = found?.answer
  if (!found || !answer) return { touched: [] }
  await undoReportAnswer(scope, answer.id, { now, by })
  if (answer.act !== 'confirmed' || answer.by === null) return { touched: [] }
  return takeBackEntry(scope, { unit: found.unit, enteredAt: answer.at, by: answer.by }, now, by)
}
