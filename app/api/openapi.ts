import { z } from 'zod'
import { neededColumns, ROW_KINDS } from '@/lib/intake/tables'
import { ENDPOINTS, type Endpoint, ROW_SCHEMAS } from './contract'
import { PROBLEM_TYPES, PROBLEMS, type ProblemType, problemAddress } from './problem'
import { MOST_REQUESTS } from './rate-limit'

type Json = Record<string, unknown>

/** What every request with a token can be told. */
const EVERYWHERE: readonly ProblemType[] = ['no-token', 'no-such-method', 'too-many-requests', 'fault']

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
      schemas: { ...rowSchemas(), Problem: PROBLEM },
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

/** One entry a status, with everything that it can mean. */
function problemsOf(types: readonly ProblemType[]): Json {
  const content = { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } }
  const statuses = [...new Set(types.map((type) => PROBLEMS[type].status))].sort()
  return Object.fromEntries(
    statuses.map((status) => {
      const meant = types.filter((type) => PROBLEMS[type].status === status)
      return [status, { description: meant.map((type) => PROBLEMS[type].title).join('; or: '), content }]
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
    detail: { type: 'string' },
  },
}

/** The rows of each kind of table by the names of their schemas: `Vehicles`, `Readings` and so on. */
const ROW_NAMES = new Map<unknown, string>(
  ROW_KINDS.map((kind) => [ROW_SCHEMAS[kind], kind.charAt(0).toUpperCase() + kind.slice(1)]),
)

const rowSchemas = (): Json =>
  Object.fromEntries(
    ROW_KINDS.map((kind) => {
      const schema = ROW_SCHEMAS[kind]
      return [ROW_NAMES.get(schema), { ...jsonSchema(schema), required: neededColumns(schema) }]
    }),
  )

/** A schema as JSON Schema 2020-12, in which rows stand by their names. */
function jsonSchema(root: z.ZodType): Json {
  const { $schema: _, ...schema } = z.toJSONSchema(root, {
    io: 'input',
    override: ({ zodSchema, jsonSchema }) => {
      const name = ROW_NAMES.get(zodSchema)
      if (name !== undefined && name !== ROW_NAMES.get(root))
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
