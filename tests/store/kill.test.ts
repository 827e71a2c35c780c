import { spawn } from 'node:child_process'
import { once } from 'node:events'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readRecords } from '@/lib/store/read/records'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'

const KILLS = process.env.LONG_TESTS ? 20 : 2

const home = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-killed-'))
fs.chmodSync(home, 0o755)
afterAll(() => fs.rmSync(home, { recursive: true, force: true }))

const serverProcess = () =>
  Number(fs.readFileSync(path.join(home, 'database/data/postmaster.pid'), 'utf8').split('\n')[0])

/** Lets a product write, kills it right after it has said that a number is kept, and answers the last one said. */
async function writeUntilKilled(first: number, withServer: boolean): Promise<number> {
  const writer = spawn(process.execPath, ['--import', 'tsx', 'tests/store/writer.ts', home, `${first}`], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  let said = ''
  writer.stdout.setEncoding('utf8')
  for await (const text of writer.stdout) {
    said += text
    if (!said.includes('\n') || writer.killed) continue
    if (withServer) process.kill(serverProcess(), 'SIGKILL')
    writer.kill('SIGKILL')
  }
  if (writer.exitCode === null && writer.signalCode === null) await once(writer, 'exit')
  return Number(said.trim().split('\n').at(-1))
}

async function keptNumbers(): Promise<number[]> {
  const started = await startDatabase({ home })
  const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
  try {
    const [organisation] = await readOrganisations(database)
    const { readings } = await withOrganisation(database, organisationId(organisation?.id ?? ''), (scope) =>
      readRecords(scope),
    )
    return readings.map(({ odometerKm }) => odometerKm)
  } finally {
    await database.$disconnect()
    await started.stop()
  }
}

test(`nothing that was said to be kept is lost by ${KILLS} kills of the product, every other one of its database too`, async () => {
  let last = 0
  for (let i = 0; i < KILLS; i++) {
    last = await writeUntilKilled(last + 1, i % 2 === 1)
    expect(last).toBeGreaterThan(0)
    const kept = await keptNumbers()
    // What was under way when it was killed may have been kept without having been said.
    expect(kept.slice(0, last)).toEqual(Array.from({ length: last }, (_, n) => n + 1))
    last = Math.max(last, kept.length)
  }
}, 1_200_000)
