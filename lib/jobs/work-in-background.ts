import { actingAs, type Database } from '@/lib/store/database'
import { listenForStale } from '@/lib/store/listen-for-stale'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { endJob, noteProgress } from '@/lib/store/write/note-job'
import { beginRescoring } from '@/lib/store/write/rescoring-job'
import { deliverWebhooks, type WebhookSurroundings } from './deliver-webhooks'
import { freshenScores } from './freshen-scores'
import { forEachOrganisation } from './inner/for-each-organisation'
import { Loop } from './inner/loop'
import { reckonApart } from './inner/reckon-apart'
import { planWhenAsked } from './plan-when-asked'
import type { Post } from './post'
import { proposePlanWhenDue } from './propose-plan'
import { refitWhenDue } from './refit'
import { replayWhenAsked } from './replay-when-asked'
import { sendDigests } from './send-digests'
import { workOnIntakes } from './work-on-intakes'
import { workOnWorkbooks } from './work-on-workbooks'

/** Fewer vehicles are done before anybody could look how far it is. */
const NOTED_FROM = 100

/** The present instant, and what goes out. */
export type Surroundings = {
  now: () => Date
  /** How mail goes out; null where none does. */
  post?: Post | null
  /** How addresses of organisations are told of stops. */
  webhooks: WebhookSurroundings
}

/**
 * Does what was asked of files, learns from the records, replays the past, plans visits, and keeps the scores of every
 * organisation and the amounts that follow from them up to date: after each change, and on each day that begins where
 * it is; and tells addresses of stops. What is to be done stands in the database, so that this may be killed at any moment.
 *
 * @param url the product's address, where it is told of work
 * @returns what stops it; work that is under way is given up
 */
export function workInBackground(
  database: Database,
  url: string,
  { now, post, webhooks }: Surroundings,
): () => void {
  const ending = new AbortController()
  const isStopped = () => ending.signal.aborted
  const forAll = (
    name: string,
    work: (acting: Database, organisation: OrganisationId) => Promise<unknown>,
  ) => {
    const acting = actingAs(database, { kind: 'job', name })
    return () =>
      forEachOrganisation(database, (organisation) => work(acting, organisation), { name, isStopped })
  }
  const takeIn = forAll('intake', async (database, organisation) => {
    await workOnIntakes(database, organisation, now, { url, signal: ending.signal })
    await workOnWorkbooks(database, organisation, now)
  })
  const score = forAll('score', (database, organisation) => freshenNoted(database, organisation, now))
  const learn = forAll('learn', (database, organisation) =>
    refitWhenDue(database, organisation, now, ending.signal),
  )
  const replay = forAll('replay', (database, organisation) =>
    replayWhenAsked(database, organisation, now, ending.signal),
  )
  const plan = forAll('plan', async (database, organisation) => {
    await proposePlanWhenDue(database, organisation, now())
    await planWhenAsked(database, organisation, now, ending.signal)
  })
  const mail = forAll('mail', async (database, organisation) => {
    if (post) await sendDigests(database, organisation, post, now, isStopped)
  })
  const tell = forAll('tell', (database, organisation) =>
    deliverWebhooks(database, organisation, now, webhooks),
  )
  // Apart from each other: nobody waits with files in hand until thousands of vehicles are scored.
  const intakes = new Loop(takeIn)
  // Whoever must not drive waits for nothing.
  const telling = new Loop(tell)
  const others = [score, replay, plan, mail].map((work) => new Loop(work))
  const learning = new Loop(learn)
  const reckoning = new Loop(() => reckonApart(url, { now }, ending.signal))
  const begin = async () => {
    void telling.run()
    void intakes.run()
    // What is there is scored before anything is learned from it, which takes longer: then there is something to see.
    await score()
    for (const loop of others) void loop.run()
    // Amounts are reckoned when scores rest on what was learned: they take as long as scoring, and would be twice.
    await learn()
    void learning.run()
    await score()
    void reckoning.run()
  }
  void begin()
  const loops = [telling, intakes, ...others, learning] // what reckons apart is woken there
  const stopListening = listenForStale(url, () => {
    for (const loop of loops) loop.wake()
  })
  return () => {
    stopListening()
    ending.abort()
    for (const loop of [...loops, reckoning]) loop.stop()
  }
}

/** Brings scores up to date; where that takes a while, a job says how far it is. */
async function freshenNoted(
  database: Database,
  organisation: OrganisationId,
  now: () => Date,
): Promise<void> {
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  let job: string | null = null
  await freshenScores(database, organisation, now(), async (done, total) => {
    if (total < NOTED_FROM) return
    job ??= await write((scope) => beginRescoring(scope, { total, now: now() }))
    const [id, progress] = [job, { done, total, message: 'Scoring vehicles' }]
    await write((scope) => noteProgress(scope, id, progress))
  })
  const ended = job
  if (ended !== null) await write((scope) => endJob(scope, ended, { failure: null, now: now() }))
}
