import type { Job } from '../job'
import type { OrganisationScope } from '../with-organisation'

/** Where long work stands; null where none of this id was asked for. */
export async function readJobState({ tx }: OrganisationScope, id: string): Promise<Job['state'] | null> {
  const [job] = await tx.$queryRaw<Pick<Job, 'state'>[]>`select state from jobs where id = ${id}::uuid`
  return job?.state ?? null
}
