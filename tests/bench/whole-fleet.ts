/** `npm run score` on 2,000 vehicles with six years of records, without learning and with it, on one core. */
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { formatDay } from '@/lib/units/dates'
import { simulatedLibrary } from '../simulation/libraries'
import { simulateWorld } from '../simulation/world'
import { writeFolder } from '../simulation/write-folder'
import { atMost, type BenchEntry } from './bench-entry'

const VEHICLES = 2000
const FIRST_DAY = 18_000
export const LAST_DAY = FIRST_DAY + 2190
/** An odometer a fortnight, a lamp report a month, a scan a quarter, a look round twice a year. */
const HABITS = {
  readingEvery: 14,
  checkEvery: { scan: 90, visual: 180, road: 365, lamp: 30 },
  followUp: 0.6,
  onSuspicion: 0.1,
  asCodes: 0.3,
}

/** What every vehicle's six years have in common. */
export const FLEET = {
  firstDay: FIRST_DAY,
  spreadDays: 0,
  lastDay: LAST_DAY,
  snapshots: [] as number[],
  habits: HABITS,
}

export function wholeFleetBench(): BenchEntry[] {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'gudgeon-bench-'))
  try {
    const rows = writeFleet(folder, VEHICLES)
    const fleet = `2,000 vehicles, ${rows.toLocaleString('en')} records: npm run score`
    const stated = scoreFolder(folder, '--no-learning')
    const learned = scoreFolder(folder)
    return [
      atMost(`${fleet} -- --no-learning`, stated.seconds, 's of processor', 20),
      atMost(`${fleet} -- --no-learning, memory`, stated.gib, 'GiB', 1),
      atMost(`${fleet}, learned from the same records first`, learned.seconds, 's of processor', 60),
      atMost(`${fleet}, learned first, memory`, learned.gib, 'GiB', 1.5),
    ]
  } finally {
    rmSync(folder, { recursive: true })
  }
}

/** Six years of records of so many vehicles, and their library; answers how many records. */
export function writeFleet(folder: string, vehicles: number): number {
  const library = simulatedLibrary('knot', 'experience')
  const { records } = simulateWorld({
    seed: 7,
    library,
    vehicles,
    ...FLEET,
  })
  writeFolder(folder, records, library)
  return records.readings.length + records.codes.length + records.checks.length + records.repairs.length
}

/** Prints, as the child's last line on standard error, what the run took. */
const REPORT = `process.on('exit', () => {
  const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage()
  console.error(JSON.stringify({ seconds: (userCPUTime + systemCPUTime) / 1e6, gib: maxRSS / 2 ** 20 }))
})`

/** Runs the command in a process of its own; processor time, so that others on the machine count little. */
function scoreFolder(folder: string, ...options: string[]): { seconds: number; gib: number } {
  const out = path.join(folder, 'scores.csv')
  const flags = [
    '--max-semi-space-size=32',
    '--import',
    'tsx',
    '--import',
    `data:text/javascript,${encodeURIComponent(REPORT)}`,
  ]
  const asked = [
    '--data',
    folder,
    '--library',
    path.join(folder, 'library.json'),
    '--as-of',
    formatDay(LAST_DAY),
  ]
  const args = [...flags, 'lib/commands/score.ts', ...asked, ...options, '--out', out]
  const run = spawnSync(process.execPath, args, { encoding: 'utf8', maxBuffer: 2 ** 26 })
  const scored = run.status === 0 ? readFileSync(out, 'utf8').trimEnd().split('\n').length - 1 : 0
  if (scored < VEHICLES) throw new Error(`not every vehicle was scored: ${run.stderr.slice(-500)}`)
  return JSON.parse(run.stderr.trimEnd().split('\n').at(-1) ?? '')
}
