/**
 * The watchlist of 50,000 vehicles at four horizons: what the page reads at random sorts, filters and searches, the
 * first rows and every count, through the product's own connection and under row-level security.
 */
import { chmodSync, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { readWatchlistPage } from '@/app/(people)/read-watchlist-page'
import { type Database, openDatabase } from '@/lib/store/database'
import { startEmbeddedServer } from '@/lib/store/inner/embedded-server'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { VEHICLE_STATUSES, WATCHLIST_COLUMNS, WATCHLIST_MARKS } from '@/lib/store/read/watchlist-query'
import { STANDINGS } from '@/lib/store/standing'
import { startDatabase } from '@/lib/store/start-database'
import { seeded } from '../simulation/random'
import { atMost, type BenchEntry } from './bench-entry'
import { drawLargeFleet, ORGANISATION, VEHICLES } from './large-fleet'

const QUESTIONS = 200
/** Each is asked so often, and its least time counts: what disturbs it only makes it slower. */
const TIMES = 3

export async function watchlistBench(): Promise<BenchEntry[]> {
  const home = mkdtempSync(path.join(os.tmpdir(), 'gudgeon-watchlist-'))
  chmodSync(home, 0o755) // the embedded server runs as a user of its own
  const started = await startDatabase({ home })
  const server = await startEmbeddedServer(home)
  try {
    await drawLargeFleet(server.adminUrl('gudgeon'))
    const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
    const spent = await askAll(database, organisationId(ORGANISATION))
    await database.$disconnect()
    const name = `watchlist of ${VEHICLES.toLocaleString('en')} vehicles: ${QUESTIONS} random sorts, filters and searches`
    return [atMost(`${name}, 95th percentile`, spent[Math.floor(QUESTIONS * 0.95)]!, 'ms', 100)]
  } finally {
    await server.release()
    await started.stop()
    rmSync(home, { recursive: true, force: true })
  }
}

/** Milliseconds of each question, the quickest first. */
async function askAll(database: Database, organisation: OrganisationId): Promise<number[]> {
  const random = seeded(11)
  const pick = <Value>(values: readonly Value[]) => values[random.below(values.length)]!
  const spent: number[] = []
  const ask = async (parameters: Record<string, string>) => {
    let least = Number.POSITIVE_INFINITY
    for (let time = 0; time < TIMES; time++) {
      const from = performance.now()
      await readWatchlistPage(database, organisation, parameters, undefined)
      least = Math.min(least, performance.now() - from)
    }
    return least
  }
  await ask({}) // the first one makes the connection
  for (let n = 0; n < QUESTIONS; n++) {
    const parameters: Record<string, string> = {
      sort: `${pick(['', '-'])}${pick(WATCHLIST_COLUMNS)}`,
      horizon: pick(['30', '90', '180', '365']),
    }
    if (random.chance(0.3)) parameters.advice = pick(STANDINGS)
    if (random.chance(0.2)) parameters.status = pick(VEHICLE_STATUSES)
    if (random.chance(0.2)) parameters.has = pick(WATCHLIST_MARKS)
    if (random.chance(0.2)) parameters.site = `Site ${random.below(40)}`
    if (random.chance(0.3))
      parameters.q = pick(['v-12', 'site 7', 'misfire 60', 'plover 3 customer', 'nowhere'])
    spent.push(await ask(parameters))
  }
  return spent.sort((a, b) => a - b)
}
