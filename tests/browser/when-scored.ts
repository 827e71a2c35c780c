import { type Database, openDatabase } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readLearning } from '@/lib/store/read/learning'
import { readReportBasis } from '@/lib/store/read/money-report'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readRescoring } from '@/lib/store/read/rescoring'
import { countStock } from '@/lib/store/read/stale-stock'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'

/** Only so that it ends at all: on a slow machine with other tests beside it takes many minutes. */
const MOST_MS = 1_500_000

/** The pages are there before the demo has been learned from and scored: waits until nothing of that is left to do. */
export const whenScored = (home: string): Promise<void> => untilDone(home, isAtWork)

/** Waits until the amounts that rest on those scores are reckoned, too, which pages never wait for. */
export const whenReckoned = (home: string): Promise<void> => untilDone(home, isReckoning)

type AtWork = (database: Database, organisation: OrganisationId) => Promise<boolean>

async function untilDone(home: string, atWork: AtWork): Promise<void> {
  const started = await startDatabase({ home })
  const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
  try {
    const from = Date.now()
    for (const { id } of await readOrganisations(database)) {
      while (await atWork(database, organisationId(id))) {
        if (Date.now() - from > MOST_MS) throw new Error('The demo has not been scored for too long')
        await new Promise((resolve) => setTimeout(resolve, 500))
      }
    }
  } finally {
    await database.$disconnect()
    await started.stop()
  }
}

const isAtWork: AtWork = (database, organisation) =>
  withOrganisation(database, organisation, async (scope) => {
    const { last, failure } = await readLearning(scope)
    if (failure) throw new Error(`The demo could not be learned from: ${failure.message}`)
    return last === null || (await readRescoring(scope, new Date())) !== null
  })

const isReckoning: AtWork = async (database, organisation) =>
  (await isAtWork(database, organisation)) ||
  withOrganisation(
    database,
    organisation,
    async (scope) => (await countStock(scope)).stale > 0 || (await readReportBasis(scope)) === null,
  )
