import { logFailedWork } from '@/lib/log/log-failed-work.mjs'
import type { Database } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'

/** Does some work for one organisation after the other; tells of what went wrong with one, and goes on. */
export async function forEachOrganisation(
  database: Database,
  work: (organisation: OrganisationId) => Promise<unknown>,
  { name, isStopped }: { name: string; isStopped: () => boolean },
): Promise<void> {
  const tell = (error: unknown) => {
    if (!isStopped()) logFailedWork(name, error)
  }
  const organisations = await readOrganisations(database).catch((error) => {
    tell(error)
    return []
  })
  for (const { id } of organisations) if (!isStopped()) await work(organisationId(id)).catch(tell)
}
