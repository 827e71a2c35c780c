import { type Database, openDatabase } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readLearning } from '@/lib/store/read/learning'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readRescoring } from '@/lib/store/read/rescoring'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'

/** Only so that it ends at all: on a slow machine with other tests beside it takes many minutes. */
const MOST_MS = 1_500_000

/** The pages are there before the demo has been learned from and scored: waits until nothing of that is left to do. */
export async function whenScored(home: string): Promise<void> {
  const started = await startDatabase({ home })
  const database = await openDatabase(started.url)
  try {
    const from = Date.now()
    for (const { id } of await readOrganisations(database)) {
      while (await isAtWork(database, organisationId(id))) {
        if (Date.now() - from > MOST_MS) throw new Error('The demo has not been scored for too long')
        await new Promise((resolve) => setTimeout(resolve, 500))
      }
    }
  } finally {
    await database.$disconnect()
    await started.stop()
  }
}

const isAtWork = (database: Database, organisation: OrganisationId): Promise<boolean> =>
  withOrganisation(database, organisation, async (scope) => {
    const { last, failure } = await readLearning(scope)
    if (failure) throw new Error(`The demo could not be learned from: ${failure.message}`)
    return last === null || (await readRescoring(scope, new Date())) !== null
  })
