import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { setTimeout as sleep } from 'node:timers/promises'
import { expect, test, vi } from 'vitest'
import { kindOfFile } from '@/lib/intake/kind-of-file'
import type { StagedFile } from '@/lib/intake/read-staged'
import { workOnIntakes } from '@/lib/jobs/work-on-intakes'
import { readIntake } from '@/lib/store/read/intake'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askIntake } from '@/lib/store/write/ask-intake'
import { stageIntake } from '@/lib/store/write/stage-intake'
import { anOrganisation } from '../store/example-records'
import { testDatabase } from '../store/test-database'

const { database, url } = await testDatabase()
const KILLS = process.env.LONG_TESTS ? 25 : 2

const file = (name: string, rows: string[]): StagedFile => {
  const bytes = Buffer.from(rows.join('\n'))
  return { name, kind: kindOfFile(name, bytes), bytes }
}
const VEHICLES = ['unit,family', 'V1,plover-22']
/** Rows enough to be read while they go in, which files of four megabytes are; long sources make it few. */
const ROWS = 12_000
const READINGS = [
  'unit,read_on,odometer_km,source',
  ...Array.from({ length: ROWS }, (_, n) => `V1,2026-01-01,${n},${String(n).padStart(340, 'tracker ')}`),
]

const organisation = await anOrganisation(database, 'killed')
const scope = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')
const now = () => new Date()
const kept = () =>
  scope(async ({ tx }) => {
    const [row] = await tx.$queryRaw<{ n: number; different: number }[]>`
      select count(*)::int as n, count(distinct odometer_km)::int as different from readings`
    return row!
  })

const startWorker = () =>
  spawn(process.execPath, ['--import', 'tsx', 'tests/jobs/intake-worker.ts', url, organisation], {
    stdio: 'inherit',
  })

async function kill(worker: ChildProcess): Promise<void> {
  worker.kill('SIGKILL')
  if (worker.exitCode === null && worker.signalCode === null) await once(worker, 'exit')
}

test(`a large file is in whole or not at all, however often (${KILLS} times) who takes it in is killed, and goes in once`, async () => {
  const files = [file('vehicles.csv', VEHICLES), file('readings.csv', READINGS)]
  expect(files[1]!.bytes.byteLength).toBeGreaterThan(4_000_000)
  const id = await scope((at) => stageIntake(at, files, { by: null, now: now() }))
  await workOnIntakes(database, organisation, now)
  await scope((at) => askIntake(at, 'intake-enter', { id, by: null, now: now() }))
  const intake = async () => (await scope((at) => readIntake(at, id)))!

  let cutOff = 0
  for (let n = 0; n < KILLS && (await intake()).state !== 'done'; n++) {
    const worker = startWorker()
    const before = (await intake()).job?.done ?? 0
    // At once when it is under way, and then anywhere in it.
    await vi.waitUntil(async () => ((await intake()).job?.done ?? 0) !== before || worker.exitCode !== null, {
      timeout: 120_000,
      interval: 20,
    })
    await sleep(n === 0 ? 0 : Math.random() * 500)
    await kill(worker)
    const { n: rows } = await kept()
    expect([0, ROWS]).toContain(rows)
    if (rows === 0) cutOff++
  }
  expect(cutOff).toBeGreaterThan(0)

  await workOnIntakes(database, organisation, now)
  expect((await intake()).state).toBe('done')
  expect(await kept()).toEqual({ n: ROWS, different: ROWS })
  await workOnIntakes(database, organisation, now)
  expect(await kept()).toEqual({ n: ROWS, different: ROWS })
}, 600_000)
