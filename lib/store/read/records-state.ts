import type { OrganisationScope } from '../with-organisation'

/** In which state all records of the organisation are: another text whenever one of them, or a vehicle, was changed. */
export async function readRecordsState({ tx }: OrganisationScope): Promise<string> {
  const [found] = await tx.$queryRaw<{ state: string }[]>`
    select count(*) || '.' || coalesce(sum(records_version), 0) || '.' || count(withdrawn_at) as state from vehicles`
  return found?.state ?? ''
}
