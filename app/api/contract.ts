import { z } from 'zod'
import { ADVICE } from '@/lib/decisions/advice'
import { SCORE_COLUMNS, type ScoreColumn } from '@/lib/intake/score-columns'
import { ROWS, type RowKind, type TableKind } from '@/lib/intake/tables'
import type { Act } from '@/lib/people/permissions'
import { librarySchema } from '@/lib/records/library-schema'
import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'
import { SCORE_SORTS } from '@/lib/store/read/scores'
import { ANSWERED_RECORDS, ANSWERED_ROWS, RECORD_STATES } from './answered-rows'
import type { BodyType } from './body'
import type { ProblemType } from './problem'
import { afterParameter, limitParameter, MOST_ROWS, numberParameter, textParameter } from './query'

/**
 * What may be asked of the machine interface and what is answered, once: requests are read by these schemas, and
 * `/api/openapi.json` is made from them.
 */

/** One method of one address. */
export type Endpoint = {
  method: 'GET' | 'POST' | 'PUT'
  /** Below `/api/v1`; a part in braces is named. */
  path: string
  summary: string
  act: Act
  query: z.ZodObject
  body?: { types: readonly BodyType[]; schema: z.ZodType }
  /** Whether it may be sent again under an Idempotency-Key. */
  keyed?: boolean
  answer: z.ZodType
  /** What the answer is where it is not JSON. */
  type?: 'text/calendar'
  /** What the answer is as text/csv, where it is asked for so. */
  csv?: string
  problems: readonly ProblemType[]
}

const endpoint = <const Stated extends Endpoint>(stated: Stated) => stated

const nothing = z.object({})
const listOf = (item: z.ZodType) =>
  z.object({
    items: z.array(item),
    next: z
      .string()
      .nullable()
      .describe('What to send as `after` for the rows that follow; null at the end.'),
  })

const paging = { limit: limitParameter.default(200), after: afterParameter.optional() }

/**
 * The rows of each kind as they may be sent, by the names that the description gives them. (`Object.fromEntries` forgets its keys, and they
 * are those of `ROWS`: hence the cast.)
 */
export const ROW_SCHEMAS = Object.fromEntries(
  Object.entries(ROWS).map(([kind, columns]) => [kind, columns.loose()]),
) as unknown as Record<RowKind, z.ZodObject>

export const ENTERED = z.object({
  accepted: z.int().min(0).describe('Rows that are new or take the place of an earlier one.'),
  unchanged: z.int().min(0).describe('Rows that were there already.'),
  rejected: z.array(
    z.object({
      index: z.int().min(0).describe('Which row of the body, from 0.'),
      line: z.int().optional().describe('In text/csv: the physical line, the header being 1.'),
      column: z.string().describe('The column at fault; empty where the row as a whole is.'),
      reason: z.string(),
    }),
  ),
})

const posting = (kind: TableKind, act: Act) =>
  endpoint({
    method: 'POST',
    path: `/${kind}`,
    summary: `Add ${kind}, up to ${MOST_ROWS} objects, or a file as text/csv. The same rows sent twice change nothing.`,
    act,
    query: nothing,
    body: {
      types: ['application/json', 'text/csv'],
      schema: z.array(ROW_SCHEMAS[kind]).max(MOST_ROWS),
    },
    keyed: true,
    answer: ENTERED,
    problems: ['not-allowed', 'in-flight', 'too-large', 'media-type', 'invalid', 'key-reused'],
  })

/** What a technician may send, and what is for a planner. */
export const POSTS = {
  vehicles: posting('vehicles', 'bring-in-records'),
  readings: posting('readings', 'enter-records'),
  codes: posting('codes', 'enter-records'),
  checks: posting('checks', 'enter-records'),
  repairs: posting('repairs', 'enter-records'),
  changes: posting('changes', 'bring-in-records'),
} satisfies Record<TableKind, Endpoint>

export const PUT_PARTS = endpoint({
  method: 'PUT',
  path: '/parts',
  summary:
    `State what stands of parts in stock, up to ${MOST_ROWS} objects, or a file as text/csv. Parts that are not named ` +
    'stay as they are; where a row says how many there are or are to come, a blank beside it is none, and each other ' +
    'blank leaves what stands. The same rows sent twice change nothing.',
  act: 'keep-parts',
  query: nothing,
  body: { types: ['application/json', 'text/csv'], schema: z.array(ROW_SCHEMAS.parts).max(MOST_ROWS) },
  keyed: true,
  answer: ENTERED,
  problems: ['not-allowed', 'in-flight', 'too-large', 'media-type', 'invalid', 'key-reused'],
})

export const LIST_PARTS = endpoint({
  method: 'GET',
  path: '/parts',
  summary: 'What stands of parts in stock, by their keys.',
  act: 'read',
  query: z.object(paging),
  answer: listOf(ANSWERED_ROWS.parts),
  problems: ['invalid'],
})

export const LIST_VEHICLES = endpoint({
  method: 'GET',
  path: '/vehicles',
  summary: 'The vehicles, by their numbers.',
  act: 'read',
  query: z.object({
    family: textParameter.optional(),
    site: textParameter.optional(),
    status: z.enum(['active', 'stock', 'sold', 'retired']).optional(),
    ...paging,
  }),
  answer: listOf(ANSWERED_ROWS.vehicles),
  problems: ['invalid'],
})

export const SHOW_VEHICLE = endpoint({
  method: 'GET',
  path: '/vehicles/{unit}',
  summary: 'One vehicle.',
  act: 'read',
  query: nothing,
  answer: ANSWERED_ROWS.vehicles,
  problems: ['not-found', 'invalid'],
})

const { readings, codes, checks, repairs, changes } = ANSWERED_RECORDS
const recordItem = z.discriminatedUnion('table', [readings, codes, checks, repairs, changes])

export const LIST_RECORDS = endpoint({
  method: 'GET',
  path: '/vehicles/{unit}/records',
  summary: 'Everything on record about one vehicle, table by table in the order of arrival.',
  act: 'read',
  query: z.object({
    state: z
      .enum([...RECORD_STATES, 'all'])
      .default('live')
      .describe('What counts; or what no longer does.'),
    ...paging,
  }),
  answer: listOf(recordItem),
  problems: ['not-found', 'invalid'],
})

const chance = z.number().min(0).max(1)

const scoreColumns = {
  unit: z.string(),
  weak_point: z.string(),
  position: z.int(),
  as_of: z.iso.date(),
  horizon_days: z.number().nullable(),
  horizon_km: z.number().nullable(),
  p_fail: chance.describe('The chance that it fails within the horizon if nothing is done.'),
  p_low: chance.describe('The 80 % band begins here'),
  p_high: chance.describe('and ends here.'),
  p_developing: chance.describe('The chance that it is going already.'),
  remaining_km_p50: z
    .number()
    .nullable()
    .describe('Median distance to failure; null for a vehicle that stands.'),
  cost_of_waiting: z.number().describe('What leaving it for one slot costs; below 0, waiting saves.'),
  advice: z.enum(ADVICE),
} satisfies Record<ScoreColumn, z.ZodType>

export const SCORE = z.object(scoreColumns)

/** Sorted by a column, the greatest first where a minus stands before it. */
const sortParameter = z
  .enum(SCORE_SORTS.flatMap((column) => [column, `-${column}`] as const))
  .default('unit')
  .describe('The column; with a minus the greatest first. Equal rows stand by unit, weak point and position.')

export const LIST_SCORES = endpoint({
  method: 'GET',
  path: '/scores',
  summary: 'The scores of components, brought up to date first.',
  act: 'read',
  query: z.object({
    horizon_days: numberParameter(3650)
      .default(90)
      .describe(`${STORED_HORIZONS_DAYS.join(', ')}; with \`unit\`, any.`),
    sort: sortParameter,
    unit: textParameter.optional(),
    weak_point: textParameter.optional(),
    family: textParameter.optional(),
    site: textParameter.optional(),
    advice: z.enum(ADVICE).optional(),
    limit: limitParameter
      .optional()
      .describe('How many rows at once; where it is left out 200, or every row as text/csv.'),
    after: afterParameter.optional(),
  }),
  answer: listOf(SCORE),
  csv: `The columns ${SCORE_COLUMNS.join(', ')}; with a limit, a Link header leads on.`,
  problems: ['invalid'],
})

export const SHOW_LIBRARY = endpoint({
  method: 'GET',
  path: '/library',
  summary: 'The library in force, as its author wrote it.',
  act: 'read',
  query: nothing,
  answer: librarySchema,
  problems: ['not-found', 'invalid'],
})

export const PUT_LIBRARY = endpoint({
  method: 'PUT',
  path: '/library',
  summary:
    'Put a library in force as a new version. A key that records name may not be dropped: it stays, retired.',
  act: 'edit-library',
  query: nothing,
  body: { types: ['application/json'], schema: librarySchema },
  answer: z.object({ version: z.int().min(1) }),
  problems: ['not-allowed', 'keys-in-use', 'too-large', 'media-type', 'invalid'],
})

export const SHOW_PLAN = endpoint({
  method: 'GET',
  path: '/plan.ics',
  summary:
    'The visits of the plan in force as a calendar (RFC 5545), each over the working days of its week.',
  act: 'read',
  query: nothing,
  answer: z.string().describe('A calendar without events where nothing is planned.'),
  type: 'text/calendar',
  problems: ['invalid'],
})

/** Everything that the description tells, in its order. */
export const ENDPOINTS: readonly Endpoint[] = [
  LIST_VEHICLES,
  ...Object.values(POSTS),
  SHOW_VEHICLE,
  LIST_RECORDS,
  LIST_SCORES,
  SHOW_LIBRARY,
  PUT_LIBRARY,
  LIST_PARTS,
  PUT_PARTS,
  SHOW_PLAN,
]
