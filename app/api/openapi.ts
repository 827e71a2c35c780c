import { z } from 'zod'
import { neededColumns, ROW_KINDS } from '@/lib/intake/tables'
import { librarySchema } from '@/lib/records/library-schema'
import { ANSWERED_RECORDS, ANSWERED_ROWS } from './answered-rows'
import { ENDPOINTS, ENTERED, type Endpoint, ROW_SCHEMAS, SCORE } from './contract'
import { PROBLEM_TYPES, PROBLEMS, type ProblemType, problemAddress } from './problem'
import { MOST_REQUESTS } from './rate-limit'

type Json = Record<string, unknown>

/** What every request with a token can be told. */
const EVERYWHERE: readonly ProblemType[] = [
  'no-token',
  'no-such-method',
  'too-many-requests',
  'database-gone',
  'no-room',
  'fault',
]

const DESCRIPTION = `Records in, scores and the library out. Rows have the columns of a data folder's files. At least
${MOST_REQUESTS} requests a minute are answered for each token; RateLimit headers say how many are left.`

/** The description of the machine interface: OpenAPI 3.1, made from the schemas by which requests are read. */
export function openApi(): Json {
  return {
    openapi: '3.1.0',
    info: { title: 'Gudgeon', version: '1', description: DESCRIPTION.replaceAll('\n', ' ') },
    servers: [{ url: '/api/v1' }],
    security: [{ token: [] }],
    paths: pathsOf(ENDPOINTS),
    components: {
      securitySchemes: { token: { type: 'http', scheme: 'bearer' } },
      schemas: { ...namedSchemas(), Problem: PROBLEM },
    },
  }
}

function pathsOf(endpoints: readonly Endpoint[]): Record<string, Json> {
  const paths: Record<string, Json> = {}
  for (const endpoint of endpoints)
    paths[endpoint.path] = { ...paths[endpoint.path], [endpoint.method.toLowerCase()]: operation(endpoint) }
  return paths
}

function operation({
  method,
  path,
  summary,
  query,
  body,
  keyed,
  answer,
  type,
  csv,
  problems,
}: Endpoint): Json {
  return {
    operationId: [method.toLowerCase(), ...(path.match(/\w+/g) ?? [])].join('-'),
    summary,
    parameters: [...partsOf(path), ...parametersOf(query), ...(keyed ? [IDEMPOTENCY_KEY] : [])],
    ...(body ? { requestBody: { required: true, content: contentOf(body.types, body.schema) } } : {}),
    responses: {
      200: {
        description: 'Done.',
        headers: LIMIT_HEADERS,
        content: {
          ...contentOf([type ?? 'application/json'], answer),
          ...(csv ? { 'text/csv': { schema: { type: 'string', description: csv } } } : {}),
        },
      },
      ...problemsOf([...EVERYWHERE, ...problems]),
    },
  }
}

const partsOf = (path: string): Json[] =>
  [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => ({
    name,
    in: 'path',
    required: true,
    schema: { type: 'string' },
  }))

function parametersOf(query: z.ZodObject): Json[] {
  const { properties = {} } = jsonSchema(query) as { properties?: Record<string, Json> }
  return Object.entries(properties).map(([name, { description, ...schema }]) => ({
    name,
    in: 'query',
    ...(description ? { description } : {}),
    schema,
  }))
}

const IDEMPOTENCY_KEY = {
  name: 'Idempotency-Key',
  in: 'header',
  description: 'For 24 hours the same request under the same key gets the same answer, and is done once.',
  schema: { type: 'string', minLength: 1, maxLength: 255 },
}

function contentOf(types: readonly string[], schema: z.ZodType): Json {
  const text = { type: 'string', description: 'A file with a header line, as in a data folder.' }
  return Object.fromEntries(
    types.map((type) => [type, { schema: type === 'text/csv' ? text : jsonSchema(schema) }]),
  )
}

const header = (description: string, type = 'string') => ({ description, schema: { type } })

/** What every request with a token is told of its limit. */
const LIMIT_HEADERS = {
  'RateLimit-Policy': header('Requests (q) that may be made within seconds (w).'),
  RateLimit: header('Requests that are left (r) until the seconds (t) are over.'),
}

const RETRY_AFTER = { 'Retry-After': header('Seconds after which to go on.', 'integer') }

/** What some problems say beside it. */
const HEADERS_OF: Record<number, Json> = {
  401: { 'WWW-Authenticate': header('Bearer.') },
  405: { ...LIMIT_HEADERS, Allow: header('The methods of this address.') },
  409: { ...LIMIT_HEADERS, ...RETRY_AFTER },
  429: { ...LIMIT_HEADERS, ...RETRY_AFTER },
}

/** One entry a status, with everything that it can mean. */
function problemsOf(types: readonly ProblemType[]): Json {
  const content = { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } }
  const statuses = [...new Set(types.map((type) => PROBLEMS[type].status))].sort()
  return Object.fromEntries(
    statuses.map((status) => {
      const meant = types.filter((type) => PROBLEMS[type].status === status)
      const description = meant.map((type) => PROBLEMS[type].title).join('; or: ')
      return [status, { description, headers: HEADERS_OF[status] ?? LIMIT_HEADERS, content }]
    }),
  )
}

const PROBLEM = {
  title: 'Problem details (RFC 9457)',
  type: 'object',
  required: ['type', 'title', 'status', 'detail'],
  properties: {
    type: { type: 'string', format: 'uri-reference', enum: PROBLEM_TYPES.map(problemAddress) },
    title: { type: 'string' },
    status: { type: 'integer' },
    detail: { type: 'string', description: 'What is wrong, in one line for a person.' },
    errors: {
      type: 'array',
      description: 'Of a library that is not valid: every error with its place.',
      items: {
        type: 'object',
        required: ['place', 'message'],
        properties: { place: { type: 'string' }, message: { type: 'string' } },
      },
    },
    keys: {
      type: 'array',
      description: 'Of a library that drops keys with records: those that must stay, as retired at least.',
      items: {
        type: 'object',
        required: ['kind', 'family', 'key'],
        properties: { kind: { type: 'string' }, family: { type: 'string' }, key: { type: 'string' } },
      },
    },
  },
}

const titled = (name: string) => name.charAt(0).toUpperCase() + name.slice(1)
const one = (kind: string) => titled(kind.slice(0, -1))

/** Schemas that stand by their names: rows as they are sent (`Readings`), as they are answered (`Reading`), records. */
const NAMES = new Map<unknown, string>([
  ...ROW_KINDS.map((kind) => [ROW_SCHEMAS[kind], titled(kind)] as const),
  ...ROW_KINDS.map((kind) => [ANSWERED_ROWS[kind], one(kind)] as const),
  ...Object.entries(ANSWERED_RECORDS).map(([kind, schema]) => [schema, `${one(kind)}Record`] as const),
  ...[[ENTERED, 'Entered'] as const, [SCORE, 'Score'] as const, [librarySchema, 'Library'] as const],
])

const namedSchemas = (): Json => ({
  ...Object.fromEntries([...NAMES].map(([schema, name]) => [name, jsonSchema(schema as z.ZodObject)])),
  // Whether a cell may be left out is known by reading a blank one.
  ...Object.fromEntries(
    ROW_KINDS.map((kind) => {
      const schema = ROW_SCHEMAS[kind]
      return [NAMES.get(schema), { ...jsonSchema(schema), required: neededColumns(schema) }]
    }),
  ),
})

/** A schema as JSON Schema 2020-12, in which others stand by their names. */
function jsonSchema(root: z.ZodType): Json {
  const { $schema: _, ...schema } = z.toJSONSchema(root, {
    io: 'input',
    override: ({ zodSchema, jsonSchema }) => {
      const name = NAMES.get(zodSchema)
      if (name !== undefined && name !== NAMES.get(root))
        replace(jsonSchema, { $ref: `#/components/schemas/${name}` })
      // How the text of a cell or a parameter is checked; a machine is told the type of what it means.
      if (jsonSchema.default === '') delete jsonSchema.default
      if (jsonSchema.type !== 'string') delete jsonSchema.pattern
    },
  })
  return schema
}

function replace(schema: object, by: object): void {
  for (const member of Object.keys(schema)) Reflect.deleteProperty(schema, member)
  Object.assign(schema, by)
}
