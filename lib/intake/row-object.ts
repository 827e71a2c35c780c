import { fieldOf } from '@/lib/records/rows'
import { formatDay } from '@/lib/units/dates'
import { ROWS, type RowKind } from './tables'

/**
 * A record as a JSON object with the columns of its file: days as ISO 8601, lists as lists, null for what is not known;
 * what stood in other columns under `notes`.
 */
export function rowObject(kind: RowKind, row: object): Record<string, unknown> {
  const columns = Object.keys(ROWS[kind].shape)
  const members = columns.map(
    (column) => [column, member(column, Reflect.get(row, fieldOf(column)))] as const,
  )
  const { notes } = row as { notes: object }
  return { ...Object.fromEntries(members), ...(Object.keys(notes).length > 0 ? { notes } : {}) }
}

const IS_DAY = /(^|_)on$/

function member(column: string, value: unknown): unknown {
  if (value === null || value === undefined) return null
  if (typeof value === 'number' && IS_DAY.test(column)) return formatDay(value)
  if (!Array.isArray(value)) return value
  return value.length === 0 && column !== 'seen' ? null : value.map(part)
}

const part = (value: number | { sign: string; position: number | null }) => {
  if (typeof value === 'number') return value
  return value.position === null ? value.sign : `${value.sign}@${value.position}`
}
