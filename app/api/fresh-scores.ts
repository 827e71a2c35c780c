import { freshenScores } from '@/lib/jobs/freshen-scores'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { held } from './held'

/** Work on an organisation's scores: what runs, and what begins after it for everybody who came meanwhile. */
type Freshening = { running: Promise<unknown>; next: Promise<unknown> | null }

const atWork = () => held('fresh-scores', () => new Map<OrganisationId, Freshening>())

/**
 * Brings an organisation's scores up to date with every record that is there when it is called. Many requests at once are
 * one piece of work: each for itself would wait for its turn with a connection in hand, until none was left for others.
 */
export async function freshScores(database: Database, organisation: OrganisationId): Promise<void> {
  const work = atWork().get(organisation)
  if (!work) {
    await begin(database, organisation)
    return
  }
  // What runs may have read the records before ours came in.
  work.next ??= work.running.then(() => begin(database, organisation))
  await work.next
}

function begin(database: Database, organisation: OrganisationId): Promise<unknown> {
  const running = freshenScores(database, organisation, new Date())
  const work: Freshening = { running: running.catch(() => {}), next: null }
  atWork().set(organisation, work)
  work.running.then(() => {
    if (work.next === null) atWork().delete(organisation)
  })
  return running
}
