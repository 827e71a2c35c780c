import { setTimeout as sleep } from 'node:timers/promises'
import { Command } from 'commander'
import { ensureSignInSecret } from '@/lib/people/sign-in-secret'
import type { Database } from '@/lib/store/database'
import { readOrganisations } from '@/lib/store/read/organisations'
import { type Environment, parseEnvironment } from './environment'
import { ensureBuilt } from './inner/ensure-built'
import { missingDemos } from './inner/missing-demos'
import { isPortFree, loadWebServer, type WebServer } from './inner/web-server'

/** Whoever waited for the start has their first page first, before the processor is busy with work behind it. */
const FIRST_PAGE_MS = 4000

const say = (line: string) => process.stderr.write(`${line}\n`)

/**
 * Starts the whole product: database, demo, web server, and the work behind it, which scores what has no scores of
 * today while the pages say so; and stops it again on a signal.
 */
async function serve(environment: Environment, dev: boolean): Promise<void> {
  const { port, host } = environment
  if (!(await isPortFree(port, host)))
    throw new Error(
      `Port ${port} is taken by another program. Choose one that is free: PORT=${port + 1} npm start`,
    )
  if (!dev) ensureBuilt(say)

  // The pages load in their process while the database starts; what that needs is loaded when they have begun.
  const signInSecret = ensureSignInSecret(environment.home)
  const openWebServer = loadWebServer({ port, host, dev, signInSecret })
  const { startDatabase } = await import('@/lib/store/start-database')
  const started = await startDatabase(environment)
  let webServer: WebServer | undefined
  let leave = async () => {}
  const ending = new AbortController()
  const stop = async () => {
    await webServer?.stop()
    ending.abort()
    await leave()
    await started.stop()
  }
  stopOnSignal(stop)
  try {
    const { leaveDatabase, openDatabase } = await import('@/lib/store/database')
    const database = await openDatabase(started.url, { kind: 'command', name: 'start' })
    leave = () => leaveDatabase(database)
    if (environment.demo) await fillWithDemos(database, new Date())
    const { lookAtFilledTables } = await import('@/lib/store/write/look-at-filled-tables')
    await lookAtFilledTables(database)
    // Not before: whoever finds the port open finds the demo, too.
    webServer = openWebServer(started.url)
    await webServer.answers
    process.stdout.write(`Gudgeon is at http://localhost:${port} (stop it with Ctrl+C)\n`)
    await Promise.all([webServer.ended, workBehindPages(database, started, environment, ending.signal)])
  } finally {
    await stop()
  }
}

/** What the work needs takes two seconds to load: that, too, comes after the first page. */
async function workBehindPages(
  database: Database,
  { url, adminUrl }: { url: string; adminUrl: string },
  { address, mail, webhooksAnywhere, backups }: Environment,
  ending: AbortSignal,
): Promise<void> {
  await sleep(FIRST_PAGE_MS)
  const { workInBackground } = await import('@/lib/jobs/work-in-background')
  const { postBy } = await import('@/lib/jobs/post')
  const { backUpDaily } = await import('@/lib/jobs/back-up-daily')
  if (ending.aborted) return
  const post = mail && postBy(mail)
  const webhooks = { anywhere: webhooksAnywhere, productAddress: address }
  const surroundings = { now: () => new Date(), say, post, webhooks }
  ending.addEventListener('abort', workInBackground(database, url, surroundings))
  if (backups) ending.addEventListener('abort', backUpDaily(adminUrl, backups, surroundings))
}

async function fillWithDemos(database: Database, now: Date): Promise<void> {
  const missing = missingDemos((await readOrganisations(database)).map(({ name }) => name))
  if (missing.length === 0) return
  say(`Bringing in the invented organisations ${missing.join(', ')} …`)
  const { addDemos } = await import('./demo') // only then: all that invents them takes a second to load
  await addDemos(database, missing, now)
}

/** Stops once, however many signals come: a terminal sends its own to every process, and npm sends them on. */
function stopOnSignal(stop: () => Promise<void>): void {
  let stopping = false
  const stopOnce = async () => {
    if (stopping) return
    stopping = true
    await stop().catch(fail)
    process.exit(0)
  }
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, stopOnce)

  // npm hands its signal to a shell that dies of it without passing it on; then we have another parent.
  const parent = process.ppid
  if (process.env.npm_lifecycle_event) setInterval(() => process.ppid !== parent && stopOnce(), 500).unref()
}

function fail(error: unknown): never {
  say(error instanceof Error ? error.message : String(error))
  process.exit(1)
}

new Command('serve')
  .description(
    'Starts Gudgeon: its database, its web pages, and on the first start three invented organisations.',
  )
  .option('--dev', 'reload pages while they are being written', false)
  .action(async ({ dev }: { dev: boolean }) => {
    const parsed = parseEnvironment(process.env)
    if (!parsed.ok) {
      say(parsed.message)
      process.exit(2)
    }
    await serve(parsed.environment, dev).then(() => process.exit(1), fail)
  })
  .parse()
