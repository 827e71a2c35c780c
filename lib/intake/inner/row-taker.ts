import type { z } from 'zod'
import { fieldOf } from '@/lib/records/rows'
import { type Day, formatDay } from '@/lib/units/dates'
import type { Fault } from '../findings'
import type { Kept } from './accepted-rows'
import type { Checked } from './check-rows'
import type { KnownFamily, KnownUnits } from './known-names'
import type { ReadRow } from './row-reader'

/** Which rows of one kind may go in. */
export interface RowRules<Schema extends z.ZodObject, Row> {
  schema: Schema
  /** Whether a unit stands in them once. */
  oncePerUnit?: boolean
  /** Rows dated later are rejected. */
  today: Day
  /** What is said of the place of an earlier row. */
  placeOf: (line: number) => string
  /** What the names in a row refer to. */
  check: (row: ReadRow<Schema>) => Checked<Row>
}

/** Where rows go that may go in. */
export interface Accepting<Row> {
  add(row: Row): void
  /** The row of the same unit before it, where a unit stands in them once. */
  otherOf(row: Row): Row | null
}

/**
 * Takes rows of one kind one after the other.
 *
 * @returns what answers what is wrong with a row, or null where it went in
 */
export function rowTaker<Schema extends z.ZodObject, Row extends Kept>(
  { schema, oncePerUnit = false, today, placeOf, check }: RowRules<Schema, Row>,
  accepted: Accepting<Row>,
): (read: ReadRow<Schema>) => Fault | null {
  const dates = pastDates(schema)
  return (read) => {
    const checked = check(read)
    if (!checked.ok) return checked.fault
    const { row } = checked
    const other = oncePerUnit ? accepted.otherOf(row) : null
    const fault = afterToday(row, dates, today) ?? (other && secondRow(other, placeOf))
    if (fault === null) accepted.add(row)
    return fault
  }
}

/** A row in which nothing but the unit refers to anything. */
export const asRead = <Row>(row: Row): Checked<Row> => ({ ok: true, row })

/** Looks up the vehicle of a row first. */
export function ofKnown<Read extends { unit: string }, Row>(
  units: KnownUnits,
  check: (row: Read, family: KnownFamily | null) => Checked<Row>,
): (row: Read) => Checked<Row> {
  return (row) => {
    const known = units.find(row.unit)
    if (!known) return { ok: false, fault: units.fault(row.unit) }
    row.unit = known.unit // one string for all rows of a vehicle, not one each
    return check(row, known.family)
  }
}

/** The columns with days that cannot lie ahead: every date but the end of a cover. */
function pastDates(schema: z.ZodObject): { column: string; field: string }[] {
  const columns = Object.keys(schema.shape).filter((column) => /(^|_)on$/.test(column))
  return columns
    .filter((column) => column !== 'cover_until_on')
    .map((column) => ({ column, field: fieldOf(column) }))
}

function afterToday(row: object, dates: { column: string; field: string }[], today: Day): Fault | null {
  for (const { column, field } of dates) {
    const day: unknown = Reflect.get(row, field)
    if (typeof day === 'number' && day > today) {
      return { column, reason: `${formatDay(day)} lies after today, ${formatDay(today)}` }
    }
  }
  return null
}

const secondRow = ({ unit, line }: Kept, placeOf: (line: number) => string): Fault => ({
  column: 'unit',
  reason: `a second row for "${unit}"; the one ${placeOf(line)} went in`,
})
