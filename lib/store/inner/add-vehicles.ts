import { isDeepStrictEqual } from 'node:util'
import type { DefaultedField, VehicleRow } from '@/lib/records/rows'
import type { Entry, EntryCounts } from '../entry'
import type { OrganisationScope } from '../with-organisation'
import { holdVehicles, insertVehicles, replaceVehicleRows, type VehicleChange } from './vehicle-rows'

/** A vehicle while rows are taken in: `before` is what stood, `row` what stands; null where it is not there. */
type Settled = { id: string | null; before: VehicleRow | null; row: VehicleRow | null }

/**
 * Adds vehicles, or changes those that are there: blank cells leave what stands. What stood is kept as a version.
 *
 * @returns how many rows had which outcome, and the vehicles that are other than before
 */
export async function addVehicles(
  scope: OrganisationScope,
  given: readonly VehicleRow[],
  entry: Entry,
): Promise<{ counts: EntryCounts; touched: string[] }> {
  const counts = { accepted: 0, unchanged: 0, superseded: 0 }
  if (given.length === 0) return { counts, touched: [] }
  const settled = new Map<string, Settled>()
  // All of them in one statement: in several, each in its own order, two transactions could wait for each other.
  for (const { id, withdrawn, row } of await holdVehicles(scope, [
    ...new Set(given.map(({ unit }) => unit)),
  ])) {
    const stands = withdrawn ? null : row
    settled.set(row.unit, { id, before: stands, row: stands })
  }
  for (const row of given) {
    const known = settled.get(row.unit) ?? { id: null, before: null, row: null }
    const next = known.row ? merged(known.row, row, entry.defaulted?.get(row.unit)) : row
    counts[outcome(known.row, next)]++
    settled.set(row.unit, { ...known, row: next })
  }
  const fresh: VehicleRow[] = []
  const changed: VehicleChange[] = []
  for (const { id, before, row } of settled.values()) {
    if (row === null || row === before) continue
    if (id === null) fresh.push(row)
    else changed.push({ id, before, row })
  }
  await insertVehicles(scope, fresh, entry)
  await replaceVehicleRows(scope, changed, entry)
  return { counts, touched: [...fresh, ...changed.map(({ row }) => row)].map(({ unit }) => unit) }
}

function outcome(stood: VehicleRow | null, stands: VehicleRow): keyof EntryCounts {
  if (stood === null) return 'accepted'
  return stood === stands ? 'unchanged' : 'superseded'
}

/** The row that stands with the cells of a later one over it; itself where they say nothing new. */
function merged(stands: VehicleRow, given: VehicleRow, defaulted?: ReadonlySet<DefaultedField>): VehicleRow {
  const stated = Object.entries(given).filter(
    ([field, value]) => value !== null && !defaulted?.has(field as DefaultedField),
  )
  const next = {
    ...stands,
    ...(isOfAnother(stands, given) ? { contact: null } : {}),
    ...Object.fromEntries(stated),
    notes: { ...stands.notes, ...given.notes },
  }
  return isDeepStrictEqual({ ...next, line: stands.line }, stands) ? stands : next
}

/** A way to reach somebody belongs to that person: it does not stand under the name of another. */
const isOfAnother = ({ customer }: VehicleRow, given: VehicleRow) =>
  customer !== null && given.customer !== null && given.customer !== customer
