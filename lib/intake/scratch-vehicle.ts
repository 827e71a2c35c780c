import type { Family, Sign } from '@/lib/records/library'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { groupByVehicle, type VehicleRecords } from '@/lib/records/vehicle-records'
import { type Day, formatDay } from '@/lib/units/dates'
import { readTables } from './read-tables'
import { noRecords } from './tables'

/** A vehicle that is asked about and kept nowhere: its engine, its odometer, and what was looked for on it. */
export type ScratchVehicle = {
  family: Family
  odometerKm: number
  /** Signs by key: seen, or looked for and not seen. One that is left out was not looked for. */
  looked: ReadonlyMap<string, 'seen' | 'not seen'>
}

const UNIT = 'scratch'
const LOOK_OF: Record<Sign['kind'], string> = {
  code: 'scan',
  visual: 'visual',
  road: 'road',
  measure: 'measure',
}

/** Its records as if it had been entered today: nothing is known of the time before. */
export function scratchRecords({ family, odometerKm, looked }: ScratchVehicle, today: Day): VehicleRecords {
  const on = formatDay(today)
  const from = { watched_from_on: on, watched_from_km: odometerKm, history: 'none' }
  const looks = new Map<string, { seen: string[]; all: string[] }>()
  for (const sign of family.signs) {
    const answer = looked.get(sign.key)
    if (answer === undefined) continue
    const kind = LOOK_OF[sign.kind]
    const look = looks.get(kind) ?? { seen: [], all: [] }
    look.all.push(sign.key)
    if (answer === 'seen') look.seen.push(sign.key)
    looks.set(kind, look)
  }
  const checks = [...looks].map(([kind, { seen, all }]) => ({
    ...{ unit: UNIT, checked_on: on, odometer_km: odometerKm, kind },
    ...{ seen: seen.join(' '), looked_for: all.join(' ') },
  }))
  const read = readTables(
    [
      {
        name: 'vehicles',
        kind: 'vehicles',
        objects: [{ unit: UNIT, family: family.key, status: 'stock', ...from }],
      },
      { name: 'readings', kind: 'readings', objects: [{ unit: UNIT, read_on: on, odometer_km: odometerKm }] },
      { name: 'checks', kind: 'checks', objects: checks },
    ],
    { library: { families: [family] }, today },
  )
  const wrong = read.flatMap(({ rejected }) => rejected)
  if (wrong[0]) throw new Error(`A scratch vehicle cannot be read: ${wrong[0].reason}`)
  const lists = Object.assign(noRecords(), ...read.map(({ kind, records }) => ({ [kind]: records[kind] })))
  return groupByVehicle({ ...lists, settings: DEFAULT_SETTINGS })[0]!
}
