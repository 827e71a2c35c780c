/**
 * A million readings in one file, looked over and brought in as the product does it, beside PostgreSQL's own COPY of the
 * same rows into the same empty table with its indexes and keys.
 */
import { chmodSync, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { intakeApart } from '@/lib/jobs/inner/intake-apart'
import { openDatabase } from '@/lib/store/database'
import type { IntakeJob } from '@/lib/store/job'
import { organisationId } from '@/lib/store/organisation-id'
import { countIntakeBytes, readIntake } from '@/lib/store/read/intake'
import { startDatabase } from '@/lib/store/start-database'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askIntake } from '@/lib/store/write/ask-intake'
import { endJob } from '@/lib/store/write/note-job'
import { stageIntake } from '@/lib/store/write/stage-intake'
import { formatDay } from '@/lib/units/dates'
import { atMost, type BenchEntry } from './bench-entry'
import { copyAgain, drawVehicles, ORGANISATION, VEHICLES } from './intake-ground'
import { MostMemory } from './most-memory'

const ROWS = 1_000_000
const FIRST_DAY = 18_000
const now = new Date('2026-06-30T12:00:00Z')

export async function intakeBench(): Promise<BenchEntry[]> {
  const home = mkdtempSync(path.join(os.tmpdir(), 'gudgeon-intake-'))
  chmodSync(home, 0o755) // the embedded server runs as a user of its own
  try {
    await drawVehicles(home)
    const { readSeconds, enterSeconds, mib } = await bringIn(home)
    const copySeconds = await copyAgain(home)
    const name = `${ROWS.toLocaleString('en')} readings of ${VEHICLES.toLocaleString('en')} vehicles`
    return [
      atMost(`${name}: looked over, in times of COPY`, readSeconds / copySeconds, '×', 3),
      atMost(`${name}: brought in, in times of COPY`, enterSeconds / copySeconds, '×', 3),
      atMost(`${name}: memory of the process that does both`, mib, 'MiB', 512),
    ]
  } finally {
    rmSync(home, { recursive: true, force: true })
  }
}

async function bringIn(home: string): Promise<{ readSeconds: number; enterSeconds: number; mib: number }> {
  const started = await startDatabase({ home })
  const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
  const organisation = organisationId(ORGANISATION)
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  const memory = new MostMemory('intake-process')
  try {
    const file = { name: 'readings.csv', kind: 'readings' as const, bytes: readings() }
    const id = await write((scope) => stageIntake(scope, [file], { by: null, now }))
    const bytes = await write((scope) => countIntakeBytes(scope, id))
    const work = async (kind: IntakeJob): Promise<number> => {
      const from = performance.now()
      const task = { id, kind, by: null, url: started.url, organisation, bytes, aheadMs: 0 }
      const failure = await intakeApart(task, { signal: new AbortController().signal })
      if (failure !== null) throw new Error(failure)
      await write((scope) => endJob(scope, id, { failure, now }))
      return (performance.now() - from) / 1000
    }
    const readSeconds = await work('intake-read')
    await write((scope) => askIntake(scope, 'intake-enter', { id, by: null, now }))
    const enterSeconds = await work('intake-enter')
    const intake = await write((scope) => readIntake(scope, id))
    const accepted = intake?.summary?.files[0]?.accepted
    if (accepted !== ROWS) throw new Error(`${accepted} of ${ROWS} rows went in`)
    return { readSeconds, enterSeconds, mib: memory.stop() }
  } finally {
    memory.stop()
    await database.$disconnect()
    await started.stop()
  }
}

/** As a tracker writes them: every vehicle every ten days. */
function readings(): Buffer {
  const lines = ['unit,read_on,odometer_km,source']
  for (let n = 0; n < ROWS; n++) {
    const turn = Math.floor(n / VEHICLES)
    const day = formatDay(FIRST_DAY + turn * 10)
    lines.push(`V-${1 + (n % VEHICLES)},${day},${100 + turn * 400 + (n % 97)},tracker`)
  }
  return Buffer.from(`${lines.join('\n')}\n`)
}
