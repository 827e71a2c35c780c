/** `npm run replay`: 24 cut-offs over 400 vehicles with six years of records, learning anew at each. */
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { formatDay } from '@/lib/units/dates'
import { atMost, type BenchEntry } from './bench-entry'
import { LAST_DAY, writeFleet } from './whole-fleet'

const VEHICLES = 400
const CUT_OFFS = 24
const EVERY = 30
const DAYS = 90

/** By the clock on the wall: the command works in as many processes as the machine runs at once. */
export function replayBench(): BenchEntry[] {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'gudgeon-replay-'))
  try {
    writeFleet(folder, VEHICLES)
    const name = `replay of ${CUT_OFFS} cut-offs over ${VEHICLES} vehicles, on ${os.availableParallelism()} cores`
    return [
      atMost(`${name}, nothing learned`, replayFolder(folder, '--no-learning'), 's', 60),
      atMost(`${name}, learned anew at each`, replayFolder(folder), 's', 60),
    ]
  } finally {
    rmSync(folder, { recursive: true })
  }
}

/** Seconds that the command takes. */
function replayFolder(folder: string, ...more: string[]): number {
  const out = path.join(folder, 'replay.json')
  const last = LAST_DAY - DAYS
  const span = ['--from', formatDay(last - EVERY * (CUT_OFFS - 1)), '--to', formatDay(last)]
  const steps = ['--every', String(EVERY), '--days', String(DAYS)]
  const data = ['--data', folder, '--library', path.join(folder, 'library.json'), '--out', out]
  const flags = ['--max-semi-space-size=32', '--import', 'tsx', 'lib/commands/replay.ts']
  const from = performance.now()
  const run = spawnSync(process.execPath, [...flags, ...data, ...span, ...steps, ...more], {
    encoding: 'utf8',
  })
  const seconds = (performance.now() - from) / 1000
  const judged = run.status === 0 ? JSON.parse(readFileSync(out, 'utf8')).cutOffs.length : 0
  if (judged !== CUT_OFFS) throw new Error(`not every cut-off was judged: ${run.stderr.slice(-500)}`)
  return seconds
}
