import { unknownName } from '@/lib/records/cells'
import {
  type CheckRow,
  type CodeRow,
  type DefaultedField,
  historyOf,
  OTHER_WEAK_POINT,
  type RepairRow,
  type repairColumns,
  UNKNOWN_REVISION,
  type VehicleRow,
  type vehicleColumns,
} from '@/lib/records/rows'
import { parseTroubleCode } from '@/lib/records/trouble-codes'
import type { Fault } from '../findings'
import { type KnownFamily, positionsOf, signFault } from './known-names'
import type { ReadRow } from './row-reader'

/** A row that may go in, or what is wrong with it. */
export type Checked<Row> = { ok: true; row: Row } | { ok: false; fault: Fault }

const fault = (column: string, reason: string): { ok: false; fault: Fault } => ({
  ok: false,
  fault: { column, reason },
})

/** @param known null where the library does not have the family: then its variant cannot be checked. */
export function checkVehicle(
  read: ReadRow<typeof vehicleColumns>,
  known: KnownFamily | null,
): Checked<VehicleRow> {
  const variants = known?.family.variants.map(({ key }) => key)
  if (read.variant !== null && variants && !variants.includes(read.variant)) {
    return fault('variant', unknownName(read.variant, variants))
  }
  const { status, duty } = read
  return {
    ok: true,
    row: { ...read, status: status ?? 'active', duty: duty ?? 'mixed', history: historyOf(read) },
  }
}

/** The cells of a vehicle that were blank where blank means something: what stands already is not changed by them. */
export function defaultedFields(read: ReadRow<typeof vehicleColumns>): Set<DefaultedField> {
  return new Set((['status', 'duty', 'history'] as const).filter((field) => read[field] === null))
}

/** A code of a known form, as the standard writes it; whether the library knows it does not matter here. */
export function checkCode(read: CodeRow): Checked<CodeRow> {
  const parsed = parseTroubleCode(read.code)
  if (!parsed) {
    return fault(
      'code',
      `"${read.code}" is no trouble code: write five characters like P0302, or SPN:FMI like 94:18`,
    )
  }
  return { ok: true, row: read.code === parsed.code ? read : { ...read, code: parsed.code } }
}

export function checkCheck(read: CheckRow, known: KnownFamily | null): Checked<CheckRow> {
  if (known === null) return { ok: true, row: read }
  const wrong = signFault('seen', read.seen, known) ?? signFault('looked_for', read.lookedFor ?? [], known)
  return wrong === null ? { ok: true, row: read } : { ok: false, fault: wrong }
}

/** Work on a weak point of the family, with its positions as numbers. */
export function checkRepair(
  read: ReadRow<typeof repairColumns>,
  known: KnownFamily | null,
): Checked<RepairRow> {
  const stated = read.positions ?? []
  if (known === null || read.weakPoint === OTHER_WEAK_POINT) {
    return { ok: true, row: { ...read, positions: stated === 'all' ? [] : stated } }
  }
  const point = known.weakPoints.get(read.weakPoint)
  if (!point) {
    return fault('weak_point', unknownName(read.weakPoint, [...known.weakPoints.keys(), OTHER_WEAK_POINT]))
  }
  const revisions = point.revisions.map(({ key }) => key)
  if (read.revision !== null && read.revision !== UNKNOWN_REVISION && !revisions.includes(read.revision)) {
    return fault('revision', unknownName(read.revision, [...revisions, UNKNOWN_REVISION]))
  }
  const all = Array.from({ length: point.positions }, (_, i) => i + 1)
  const positions = stated === 'all' || (read.positions === null && all.length === 1) ? all : stated
  const outside = positions.find((position) => position > point.positions)
  if (outside !== undefined)
    return fault('positions', `${outside}: ${positionsOf(point.key, point.positions)}`)
  return { ok: true, row: { ...read, positions } }
}
