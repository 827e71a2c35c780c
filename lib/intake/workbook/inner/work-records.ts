/** What a row tells of work: one repair a phrase. */
import type { Family } from '@/lib/records/library'
import { OTHER_WEAK_POINT, UNKNOWN_REVISION } from '@/lib/records/rows'
import { type Answers, type Mapping, phraseKey, saidOf, type Tie } from '../mapping'
import { positionsIn, splitPhrases } from '../phrases'
import { oneLine } from '../read-cells'
import type { SaidRow } from './said-rows'
import type { FileRecord } from './table-file'

export interface WorkGround {
  work: Mapping['work']
  answers: Answers
  /** The vehicle's engine; null where the library does not have it. */
  family: Family | null
}

type Job = { phrase: string; tie: Tie | null; weakPoint: string }

/** Work that is tied to nothing on this engine is kept beside, word for word. */
export function workRecords(row: SaidRow, ground: WorkGround): { records: FileRecord[]; beside: number } {
  const jobs = row.several.work.flatMap(splitPhrases).map((phrase) => jobOf(phrase, ground))
  const tied = jobs.filter(({ weakPoint }) => weakPoint !== OTHER_WEAK_POINT)
  // What a row says once of several jobs is said of none of them, but for what they cost together.
  const only = tied.length === 1 ? tied[0] : jobs.length === 1 ? jobs[0] : undefined
  const payer = tied[0] ?? jobs[0]
  const records = jobs.map((job) => ({
    cells: {
      weak_point: job.weakPoint,
      ...actOf(job, job === only ? row.values : {}, ground),
      ...(job === only ? ofOne(row) : {}),
      ...(job === payer ? costs(row) : {}),
      paid_by: row.values.paidBy ?? '',
      note: oneLine(job.phrase),
    },
    notes: {},
  }))
  return { records, beside: jobs.length - tied.length }
}

function jobOf(phrase: string, { work, family }: WorkGround): Job {
  const tie = saidOf(work, phraseKey(phrase)) ?? null
  const tied = tie && (family ? saidOf(tie.weakPoints, family.key) : Object.values(tie.weakPoints)[0])
  const isThere = !family || family.weakPoints.some(({ key }) => key === tied)
  return { phrase, tie, weakPoint: tied && isThere ? tied : OTHER_WEAK_POINT }
}

const ofOne = ({ values }: SaidRow): Record<string, string> => ({
  because: values.because ?? '',
  supplier: values.supplier ?? '',
  batch: values.batch ?? '',
})

const costs = ({ values }: SaidRow): Record<string, string> => ({
  parts_cost: values.partsCost ?? '',
  labour_hours: values.labourHours ?? '',
})

/** What was done, where, and what was found. Work that is tied to nothing says no more than its words. */
function actOf(
  { phrase, tie, weakPoint }: Job,
  said: SaidRow['values'],
  { answers, family }: WorkGround,
): Record<string, string> {
  if (weakPoint === OTHER_WEAK_POINT || tie === null) return { action: said.action || 'inspect' }
  const point = family?.weakPoints.find(({ key }) => key === weakPoint)
  const action = said.action || tie.action
  const several = point === undefined || point.positions > 1
  const unsaid = several && answers.whichOfSeveral === 'all' ? 'all' : ''
  const isRenewed = action === 'renew' && point !== undefined && point.revisions.length > 0
  return {
    action,
    positions: positionsOf(said.positions ?? '') || (several ? positionsOfTie(tie, phrase) : '') || unsaid,
    found: said.found || tie.found,
    revision:
      revisionOf(said.revision ?? '', point) ||
      (isRenewed && answers.partVersion !== 'original' ? UNKNOWN_REVISION : ''),
  }
}

/** `1, 3`, `cyl 2`, `All`: as our files have it; what cannot be read stays. */
function positionsOf(written: string): string {
  if (/^(?:all|alle|tous|toutes|todos|todas)$/i.test(written)) return 'all'
  const figures = /^[\d\s,;/&+]+$/.test(written) ? (written.match(/\d+/g) ?? []) : positionsIn(written)
  return figures.length > 0 ? figures.join(' ') : written
}

const positionsOfTie = ({ positions }: Tie, phrase: string): string =>
  positions === 'number' ? positionsIn(phrase).join(' ') : positions

/** A part version by its key or its name; what was written where it is neither. */
function revisionOf(written: string, point: Family['weakPoints'][number] | undefined): string {
  const same = (one: string | undefined) => one?.toLowerCase() === written.toLowerCase()
  return point?.revisions.find(({ key, name }) => same(key) || same(name))?.key ?? written
}
