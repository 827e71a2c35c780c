/** Whatever is under way when the product is killed, nothing of it is half there, and in the end all of it is done. */
import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { setTimeout as sleep } from 'node:timers/promises'
import { expect, test } from 'vitest'
import { brokenRules } from '@/lib/decisions/plan-value'
import { parseFit } from '@/lib/intake/fit-file'
import { enterRecords } from '@/lib/jobs/enter-records'
import { readPlanNow } from '@/lib/jobs/plan-now'
import { readAskedJobs } from '@/lib/store/read/asked-jobs'
import { readFitInForce } from '@/lib/store/read/fit-in-force'
import { readLearning } from '@/lib/store/read/learning'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askPlan } from '@/lib/store/write/ask-plan'
import { askRefit } from '@/lib/store/write/ask-refit'
import { putLibrary } from '@/lib/store/write/put-library'
import { putPlanTerms } from '@/lib/store/write/put-plan-terms'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, withLibrary } from './demo-fleet'
import { expectAsScored, storedScores } from './stored-scores'

const { database, url } = await testDatabase()
const KILLS = process.env.LONG_TESTS ? 100 : 2
/** All of the work takes about so long on a quiet machine: kills come anywhere in it, the first one early. */
const WORK_MS = 9000
const EARLY_MS = 1000

const some = demoFleet(12)
/** A visit costs nothing, so that few vehicles are enough for a plan. */
const fleet = { ...some, records: { ...some.records, settings: { ...some.records.settings, visit: 0 } } }
const organisation = await withLibrary(database, 'killed at work', fleet)
await enterRecords(database, organisation, fleet.records, { now: NOW, by: null })
const scope = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')
const by = { by: null, now: NOW }
const bays = [1, 2].map((n) => ({ name: `Bay ${n}`, hours: 8, except: [] }))
await scope((at) => putPlanTerms(at, { weeks: 6, kept: 0.1, bays }, by))

async function begin(): Promise<ChildProcess> {
  const worker = spawn(
    process.execPath,
    ['--import', 'tsx', 'tests/jobs/background-worker.ts', url, organisation],
    { stdio: ['ignore', 'pipe', 'inherit'] },
  )
  await once(worker.stdout, 'data')
  return worker
}

async function ended(worker: ChildProcess): Promise<void> {
  if (worker.exitCode === null && worker.signalCode === null) await once(worker, 'exit')
}

/** Another version of the same library makes every score stale, and what was learned and planned is asked for again. */
async function askForAll(): Promise<void> {
  await scope((at) => putLibrary(at, { content: fleet.content, now: NOW }))
  await scope((at) => askRefit(at, by))
  await scope((at) => askPlan(at, by))
}

const isAsked = async () =>
  (await scope(readLearning)).job !== null || (await scope((at) => readAskedJobs(at, ['plan']))).length > 0

/** What is there is whole: what was learned can be read, a plan has all of its visits, a vehicle all of its scores. */
async function expectWhole(): Promise<void> {
  const fit = await scope(readFitInForce)
  if (fit) expect(parseFit(fit.content, fleet.library).ok).toBe(true)
  const { plan, visits } = await scope((at) => readPlanNow(at, NOW))
  if (plan) {
    const bare = visits.map(({ row, stops, ...visit }) => visit)
    expect(bare).toHaveLength(plan.content.visits.length)
    expect(brokenRules(plan.request, bare)).toEqual([])
  }
  const scores = new Map<string, Set<unknown>>()
  for (const { unit, weakPoint, position, horizonDays } of (
    await storedScores(database, organisation)
  ).values()) {
    const component = `${unit} ${weakPoint} ${position}`
    scores.set(component, (scores.get(component) ?? new Set()).add(horizonDays))
  }
  for (const horizons of scores.values()) expect(horizons.size).toBe(4)
}

test(`nothing is half learned, scored or planned by ${KILLS} kills, and all of it is done after`, async () => {
  let cutOff = 0
  for (let n = 0; n < KILLS; n++) {
    await askForAll()
    const worker = await begin()
    await sleep(Math.random() * (n === 0 ? EARLY_MS : WORK_MS))
    worker.kill('SIGKILL')
    await ended(worker)
    if (await isAsked()) cutOff++
    await expectWhole()
  }
  expect(cutOff).toBeGreaterThan(0)

  await askForAll()
  await ended(await begin())
  expect(await isAsked()).toBe(false)
  await expectWhole()
  const learned = parseFit((await scope(readFitInForce))!.content, fleet.library)
  if (!learned.ok) throw new Error(learned.errors[0]?.message)
  expect(await expectAsScored(database, organisation, fleet, learned.value.fit)).toBeGreaterThan(300)
  expect((await scope((at) => readPlanNow(at, NOW))).visits.length).toBeGreaterThan(0)
}, 3_600_000)
