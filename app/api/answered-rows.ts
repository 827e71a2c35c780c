import { z } from 'zod'
import { ROWS, type RowKind } from '@/lib/intake/tables'
import type { JsonForm } from '@/lib/records/cells'

/**
 * Rows as they are answered, by the columns of their files. What is sent may be written in several ways (`4`, `"4"`,
 * `"1 3"`, `[1, 3]`, a blank or null); what is answered has one type a column, the first that its cell names, and null
 * where nothing is known.
 */

/** Columns in whose place something stands even where the cell was blank. */
const ALWAYS_SAID: Partial<Record<RowKind, readonly string[]>> = {
  vehicles: ['status', 'history', 'duty'],
  codes: ['state'],
  checks: ['seen'],
}

const answeredRow = (kind: RowKind) =>
  z.object({
    ...Object.fromEntries(
      Object.entries(ROWS[kind].shape).map(([column, cell]) => {
        const form = cell.meta() as JsonForm & { description: string }
        const value = answeredValue(form)
        const isNever = !form.type.includes('null') || ALWAYS_SAID[kind]?.includes(column)
        return [column, (isNever ? value : value.nullable()).describe(form.description)]
      }),
    ),
    notes: z
      .record(z.string(), z.string())
      .optional()
      .describe('What stood in columns that are none of ours.'),
  })

function answeredValue({ type: [type], enum: words, format, items }: JsonForm): z.ZodType {
  if (type === 'number' || type === 'integer') return z.number()
  if (type === 'boolean') return z.boolean()
  if (type === 'array') return z.array((items as { type: string }).type === 'integer' ? z.int() : z.string())
  if (Array.isArray(words)) return z.enum(words.filter((word) => typeof word === 'string' && word !== ''))
  return format === 'date' ? z.iso.date() : z.string()
}

/** The rows of each kind as they are answered. */
export const ANSWERED_ROWS = {
  vehicles: answeredRow('vehicles'),
  readings: answeredRow('readings'),
  codes: answeredRow('codes'),
  checks: answeredRow('checks'),
  repairs: answeredRow('repairs'),
  changes: answeredRow('changes'),
  parts: answeredRow('parts'),
} satisfies Record<RowKind, z.ZodObject>

export const RECORD_STATES = ['live', 'superseded', 'withdrawn'] as const

/** What every record says of itself beside the columns of its table. */
const ABOUT_RECORD = {
  id: z.uuid(),
  state: z.enum(RECORD_STATES).describe('Whether it counts.'),
  entered_at: z.iso.datetime(),
  entered_by: z.uuid().nullable().describe('The person or token that entered it.'),
}

const record = <const Kind extends Exclude<RowKind, 'vehicles' | 'parts'>>(kind: Kind, more = {}) =>
  ANSWERED_ROWS[kind].extend({ table: z.literal(kind), ...ABOUT_RECORD, ...more })

/** The records of each table as they are answered; `state` is whether one counts, a code's own is `code_state`. */
export const ANSWERED_RECORDS = {
  readings: record('readings'),
  codes: record('codes', {
    code_state: z.enum(['stored', 'pending', 'permanent']).describe('The code’s own state.'),
  }),
  checks: record('checks'),
  repairs: record('repairs'),
  changes: record('changes'),
}
