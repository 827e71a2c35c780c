/** Vehicles of a sheet, one record each however many rows speak of them. */
import { milesFromKm } from '@/lib/units/distances'
import { MEANINGS, type Meaning } from '../mapping'
import { ENGINE_NOT_KNOWN, engineIn, type KnownVehicles } from './known-vehicles'
import type { SaidRow } from './said-rows'
import type { FileRecord } from './table-file'

/** The first day on which a workbook speaks of a vehicle, and what its odometer said then. */
export type FirstRecord = { on: string; km: number | null }

const VEHICLE_COLUMNS = Object.entries(MEANINGS).flatMap(([meaning, { fills }]) =>
  'vehicles' in fills ? [[meaning as Meaning, fills.vehicles as string] as const] : [],
)
const OWN_COLUMNS = VEHICLE_COLUMNS.filter(([meaning]) => !['unit', 'ref', 'enteredOn'].includes(meaning))

export interface VehicleDraft {
  line: number
  unit: string
  cells: Record<string, string>
  notes: Record<string, string>
}

/** Gathers what rows say of each vehicle: the first cell that is not blank counts. */
export class VehicleDrafts {
  private readonly byUnit = new Map<string, VehicleDraft>()
  private readonly nameless: VehicleDraft[] = []
  /** Cells that say something else than an earlier row of the same vehicle. */
  contradictions = 0

  constructor(private readonly families: ReadonlySet<string>) {}

  /** @returns whether the row says anything of a vehicle */
  take(row: SaidRow, unit: string): boolean {
    const cells = this.cellsOf(row)
    if (Object.keys(cells).length === 0 && unit === '') return false
    const known = unit === '' ? undefined : this.byUnit.get(unit)
    if (!known) {
      const draft = { line: row.line, unit, cells, notes: {} }
      if (unit === '') this.nameless.push(draft)
      else this.byUnit.set(unit, draft)
      return true
    }
    for (const [column, text] of Object.entries(cells)) {
      if (!known.cells[column]) known.cells[column] = text
      else if (known.cells[column] !== text) this.contradictions++
    }
    return true
  }

  keep(unit: string, notes: Record<string, string>): void {
    const known = this.byUnit.get(unit)
    if (known) known.notes = { ...notes, ...known.notes }
  }

  list(): VehicleDraft[] {
    return [...this.byUnit.values(), ...this.nameless]
  }

  private cellsOf(row: SaidRow): Record<string, string> {
    const [family, variant] = engineIn(row, this.families)
    const cells: Record<string, string> = {}
    for (const [meaning, column] of OWN_COLUMNS) {
      const text = row.values[meaning]
      if (text) cells[column] = text
      const precision = row.precision[meaning]
      if (precision) cells[`${column} precision`] = precision
    }
    if (family !== '') cells.family = family
    if (!cells.variant && variant !== '') cells.variant = variant
    return cells
  }
}

/** A vehicle as it stands in a file: its engine from elsewhere where its row says none, and since when it is watched. */
export function vehicleRecord(
  { unit, cells: said, notes }: VehicleDraft,
  vehicles: KnownVehicles,
  first: FirstRecord | undefined,
  distance: 'km' | 'mi',
): FileRecord {
  const cells: Record<string, string> = { unit }
  const kept = { ...notes }
  for (const [column, text] of Object.entries(said)) {
    if (column.endsWith(' precision')) kept[column] = text
    else cells[column] = text
  }
  // A row that holds nothing but a number may be a remark below the table: it is refused, not taken for a vehicle.
  const saysMore = Object.keys(said).length > 0 || first !== undefined
  cells.family ??= vehicles.engineOf(unit) ?? (saysMore && unit !== '' ? ENGINE_NOT_KNOWN : '')
  const isSaid = cells.history || cells.watched_from_on || cells.watched_from_km
  if (!vehicles.tellsOfWatch(unit) || isSaid) return { cells, notes: kept }
  if (vehicles.beforeOf(unit) === 'full') cells.history = 'full'
  else Object.assign(cells, watchedFrom(first, distance))
  return { cells, notes: kept }
}

/** Nobody knows what was before the first record; so it is too where nobody has answered yet. */
function watchedFrom(first: FirstRecord | undefined, distance: 'km' | 'mi'): Record<string, string> {
  if (!first) return { history: 'none' }
  const km = first.km === null ? null : distance === 'mi' ? milesFromKm(first.km) : first.km
  return {
    history: 'none',
    watched_from_on: first.on,
    ...(km === null ? {} : { watched_from_km: String(Number(km.toPrecision(12))) }),
  }
}
