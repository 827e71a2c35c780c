import type { Job } from '@/lib/store/job'

/** What a bar shows of work under way; nothing where nobody knows yet how far it is. */
export const shareOf = (job: Job | null): { max?: number; value?: number } =>
  job?.total ? { max: job.total, value: job.done } : {}
