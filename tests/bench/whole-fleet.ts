/** 2,000 vehicles with six years of records, scored on the library alone. */
import { scoreFleet } from '@/lib/decisions/score-fleet'
import { simulatedLibrary } from '../simulation/libraries'
import { simulateWorld } from '../simulation/world'
import { atMost, type BenchEntry, cpuSeconds } from './bench-entry'

const VEHICLES = Number(process.env.NV ?? 2000)
const SIX_YEARS = 2190

export function wholeFleetBench(): BenchEntry[] {
  const firstDay = 18_000
  const lastDay = firstDay + SIX_YEARS
  const library = simulatedLibrary('knot', 'experience')
  const plan = { seed: 7, library, vehicles: VEHICLES, firstDay, spreadDays: 0, lastDay, snapshots: [] }
  const { records } = simulateWorld(plan)
  const rows = records.readings.length + records.codes.length + records.checks.length + records.repairs.length
  const seconds = cpuSeconds(() => {
    const scores = scoreFleet({ records, library, asOf: lastDay, horizons: [{ days: 90 }] })
    if (scores.vehicles.length !== VEHICLES) throw new Error('not every vehicle was scored')
  })
  const gib = process.resourceUsage().maxRSS / 2 ** 20
  const name = `2,000 vehicles, ${rows.toLocaleString('en')} records, scored without learning`
  return [atMost(name, seconds, 's of one core', 20), atMost(`${name}: memory`, gib, 'GiB', 1)]
}
