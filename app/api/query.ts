import { z } from 'zod'
import { unknownName } from '@/lib/records/cells'
import { Problem } from './problem'

/** Most rows that one answer holds, and most records that one request brings. */
export const MOST_ROWS = 10_000

/** Any text that a column can hold. */
export const textParameter = z
  .string()
  .max(200)
  .refine((text) => !text.includes('\0'), 'holds NUL')

/** A number above 0, written in digits. */
export const numberParameter = (most: number) =>
  z
    .string()
    .regex(/^\d{1,9}(\.\d{1,9})?$/, 'expected a number')
    .transform(Number)
    .refine((value) => value > 0 && value <= most, `expected a number above 0 and up to ${most}`)
    .meta({ type: 'number', exclusiveMinimum: 0, maximum: most })

export const limitParameter = z
  .string()
  .regex(/^\d{1,9}$/, 'expected a whole number')
  .transform(Number)
  .refine((value) => value >= 1 && value <= MOST_ROWS, `expected 1 to ${MOST_ROWS}`)
  .meta({
    type: 'integer',
    minimum: 1,
    maximum: MOST_ROWS,
    description: 'How many rows at once; 200 where it is left out.',
  })

/** The `next` of an earlier answer. */
export const afterParameter = z
  .string()
  .max(10_000)
  .describe('`next` of the answer before: what comes after it. Everything else stays as it was.')

/**
 * Reads the parameters of an address.
 *
 * @throws Problem `invalid` for one that is not known, given twice, or has a wrong value
 */
export function parseQuery<Query extends z.ZodObject>(
  schema: Query,
  parameters: URLSearchParams,
): z.output<Query> {
  const known = Object.keys(schema.shape)
  for (const name of parameters.keys()) {
    if (!known.includes(name)) throw new Problem('invalid', `unknown parameter: ${unknownName(name, known)}`)
    if (parameters.getAll(name).length > 1) throw new Problem('invalid', `${name}: is given twice`)
  }
  const parsed = schema.safeParse(Object.fromEntries(parameters))
  if (parsed.success) return parsed.data
  const wrong = parsed.error.issues.map(({ path, message }) => `${path.join('.')}: ${message}`)
  throw new Problem('invalid', wrong.join('; '))
}
