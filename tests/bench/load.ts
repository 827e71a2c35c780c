/**
 * Two hundred people at once on ten times the largest demo's records, for five minutes, the product and its database on
 * one core: how long a page takes at the server, whether any is refused, and whether memory grows. Each reads for about
 * half a minute between two pages. Before they come every kind of page was asked for once, and what that began is done:
 * what a first day's first page costs is told by the bench of the product. `LOAD_MINUTES` makes it shorter, to try it.
 */
import { execFileSync } from 'node:child_process'
import { chmodSync, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { ORGANISATION_COOKIE } from '@/app/require-person'
import { openDatabase } from '@/lib/store/database'
import { startEmbeddedServer } from '@/lib/store/inner/embedded-server'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { DEMO_NAMES } from '@/seed/demo-names'
import { launchChromium } from '../browser/chromium'
import { enterByDemoDoor, startProduct } from '../browser/product'
import { whenReckoned } from '../browser/when-scored'
import { demoFleet, withLibrary } from '../jobs/demo-fleet'
import { atMost, type BenchEntry } from './bench-entry'
import { makeEverybodys } from './everybodys'
import { cpuSecondsOf, familyOf, mebibytesOf, processIds, toldOf } from './processes'

const PEOPLE = 200
const MINUTES = Number(process.env.LOAD_MINUTES ?? 5)
const TIMES = 10
const READS_FOR_MS = [20_000, 40_000] as const
const COME_WITHIN_MS = 60_000
/** The other core asks. */
const CORE = 0

type Page = { address: string; took: number; status: number; at: number }

export async function loadBench(): Promise<BenchEntry[]> {
  const home = mkdtempSync(path.join(os.tmpdir(), 'gudgeon-load-'))
  chmodSync(home, 0o755) // the embedded server runs as a user of its own
  let product = await startProduct(home)
  try {
    const browser = await launchChromium()
    const { storageState } = await enterByDemoDoor(browser, product.address)
    await browser.close()
    await product.end()
    const { organisation, units } = await addTenfold(home)
    product = await startProduct(home)
    await whenReckoned(home)
    const cookies = storageState.cookies.map(({ name, value }) => `${name}=${value}`)
    const cookie = [...cookies, `${ORGANISATION_COOKIE}=${organisation}`].join('; ')
    for (const page of ['/', `/vehicles/${encodeURIComponent(units[0]!)}`, ...LISTS])
      await (await fetch(product.address + page, { headers: { cookie } })).arrayBuffer()
    await whenIdle(product.process.pid!)
    pinToCore(product.process.pid!)
    const pages: Page[] = []
    const memory: number[] = []
    const until = performance.now() + MINUTES * 60_000
    const watching = setInterval(() => memory.push(memoryOf(product.process.pid!)), 5000)
    const person = () => leaf({ address: product.address, cookie, units, until, pages })
    await Promise.all(Array.from({ length: PEOPLE }, person))
    clearInterval(watching)
    return entriesOf(pages, memory, units.length)
  } finally {
    await product.end()
    rmSync(home, { recursive: true, force: true })
  }
}

/** The first demo's records ten times over, as one more organisation of everybody whom the demo knows. */
async function addTenfold(home: string): Promise<{ organisation: string; units: string[] }> {
  const started = await startDatabase({ home })
  const database = await openDatabase(started.url, { kind: 'command', name: 'bench' })
  const fleet = demoFleet()
  const organisation = await withLibrary(database, `${DEMO_NAMES[0]} tenfold`, fleet)
  const units: string[] = []
  for (let time = 0; time < TIMES; time++) {
    const renamed = <Row extends { unit: string }>(rows: Row[]) =>
      rows.map((row) => ({ ...row, unit: `${row.unit}/${time}` }))
    const { vehicles, readings, codes, checks, repairs, changes } = fleet.records
    const records = {
      ...{ vehicles: renamed(vehicles), readings: renamed(readings), codes: renamed(codes) },
      ...{ checks: renamed(checks), repairs: renamed(repairs), changes: renamed(changes) },
    }
    const entry = { now: new Date(), by: null }
    await withOrganisation(database, organisation, (scope) => addRecords(scope, records, entry), 'write')
    units.push(...records.vehicles.map(({ unit }) => unit))
  }
  await database.$disconnect()
  await started.stop()
  const server = await startEmbeddedServer(home)
  await makeEverybodys(server.adminUrl('gudgeon'), organisation)
  await server.release()
  return { organisation, units }
}

type Person = { address: string; cookie: string; units: string[]; until: number; pages: Page[] }

/** One person, who comes some time in the first minute. */
async function leaf({ address, cookie, units, until, pages }: Person): Promise<void> {
  await sleep(Math.random() * COME_WITHIN_MS)
  while (performance.now() < until) {
    const page = somePage(units)
    const from = performance.now()
    const answer = await fetch(address + page, { headers: { cookie }, redirect: 'manual' })
    await answer.arrayBuffer()
    pages.push({ address: page, took: performance.now() - from, status: answer.status, at: from })
    await sleep(READS_FOR_MS[0] + Math.random() * (READS_FOR_MS[1] - READS_FOR_MS[0]))
  }
}

const LISTS = [
  '/?sort=-chance',
  '/?q=V',
  '/?sort=-waiting&days=365',
  '/plan',
  '/proposals',
  '/parts',
  '/families',
]

/** A third opens the list, half a vehicle of it, and the others something else. */
function somePage(units: readonly string[]): string {
  const [what, which] = [Math.random(), Math.random()]
  if (what < 0.33) return '/'
  if (what < 0.83) return `/vehicles/${encodeURIComponent(units[Math.floor(which * units.length)]!)}`
  return LISTS[Math.floor(which * LISTS.length)]!
}

/** Waits until the product's own processes have been at work for less than a tenth of some seconds. */
async function whenIdle(pid: number): Promise<void> {
  const WINDOW_MS = 5000
  const spent = () => familyOf(pid).reduce((sum, id) => sum + cpuSecondsOf(id), 0)
  for (let before = spent(); ; ) {
    await sleep(WINDOW_MS)
    const now = spent()
    if (now - before < WINDOW_MS / 10_000) return
    before = now
  }
}

/** The product's processes and PostgreSQL's on one core. */
function pinToCore(pid: number): void {
  const postgres = processIds().filter((id) => toldOf(id, 'comm').trim() === 'postgres')
  for (const id of [...familyOf(pid), ...postgres])
    execFileSync('taskset', ['-acp', String(CORE), String(id)], { stdio: 'ignore' })
}

/** MiB that the product's own processes hold. */
const memoryOf = (pid: number): number => familyOf(pid).reduce((sum, id) => sum + mebibytesOf(id, 'VmRSS'), 0)

function entriesOf(pages: readonly Page[], memory: readonly number[], vehicles: number): BenchEntry[] {
  const took = pages.map((page) => page.took).sort((a, b) => a - b)
  const name = `${PEOPLE} people at once on ${vehicles.toLocaleString('en')} vehicles for ${MINUTES} min on one core`
  const mean = (part: readonly number[]) => part.reduce((a, b) => a + b, 0) / part.length
  const fifth = Math.ceil(memory.length / 5)
  const grown = (100 * mean(memory.slice(-fifth))) / mean(memory.slice(fifth, 2 * fifth)) - 100
  return [
    atMost(`${name}: a page, 95th percentile`, took[Math.floor(took.length * 0.95)]!, 'ms', 300),
    atMost(
      `${name}: pages of ${pages.length} that were refused`,
      pages.filter(({ status }) => status !== 200).length,
      'pages',
      0,
    ),
    atMost(`${name}: memory of the last minute over that of the second`, grown, '%', 10),
  ]
}
