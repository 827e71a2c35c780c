/** Long work on files that are brought in. The job has the id of its intake. */
export const INTAKE_JOBS = ['intake-read', 'intake-enter', 'intake-take-back', 'intake-bring-back'] as const
export type IntakeJob = (typeof INTAKE_JOBS)[number]

/** Long work on a workbook, before it is an intake. The job has the id of the workbook. */
export const WORKBOOK_JOBS = ['workbook-read', 'workbook-apply'] as const
export type WorkbookJob = (typeof WORKBOOK_JOBS)[number]

/** Long work, and how far it is. */
export type Job = {
  id: string
  kind: string
  state: 'running' | 'done' | 'failed' | 'stopped'
  done: number
  total: number | null
  message: string | null
}
