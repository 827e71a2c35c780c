import type { z } from 'zod'
import { errorDetails } from '@/lib/log/error-details.mjs'
import { logEvent } from '@/lib/log/log-event.mjs'
import { type Act, can } from '@/lib/people/permissions'
import type { Present } from '@/lib/people/session'
import { personOfToken } from '@/lib/people/tokens'
import { actingAs, type Database } from '@/lib/store/database'
import { isDatabaseGone, isDiskFull } from '@/lib/store/database-gone'
import { productDatabase } from '@/lib/store/product-database'
import { PROBLEMS, Problem, type ProblemType, problemResponse } from './problem'
import { parseQuery } from './query'
import { countRequest } from './rate-limit'

/** A request that may be answered: who asks, what for, and when. */
export type Call<Query> = {
  request: Request
  database: Database
  present: Present
  now: Date
  query: Query
  /** The named parts of the address. */
  params: Readonly<Record<string, string>>
}

/** What may be asked of one method of an address. */
export type Asking<Query extends z.ZodObject> = { act: Act; query: Query }

/** One method of an address: who may ask what, and the answer. */
export type Served = { act: Act; answer: (call: Call<URLSearchParams>) => Promise<Response> }

/** Binds an answer to what may be asked. */
export const answering = <Query extends z.ZodObject>(
  { act, query }: Asking<Query>,
  answer: (call: Call<z.output<Query>>) => Promise<Response>,
): Served => ({ act, answer: (call) => answer({ ...call, query: parseQuery(query, call.query) }) })

const METHODS = ['GET', 'POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS'] as const
type Method = (typeof METHODS)[number]

/** Next hands over the named parts of an address; undefined where it has none. */
type Context = { params: Promise<Record<string, string | string[] | undefined> | undefined> }
type Handler = (request: Request, context: Context) => Promise<Response>

/**
 * The handlers of an address; what it may be asked is told to everybody (OPTIONS). Each makes sure, in this order: a valid token, fewer requests than its limit, a method that
 * is answered, a role that may; only then are address and body read.
 */
export function serve(methods: Partial<Record<Method, Served>>): Record<Method, Handler> {
  const answered = Object.keys(methods)
  return handlersOf(async (method, request, context, said) => {
    if (method === 'OPTIONS') return allowing(answered)
    const now = new Date()
    const connections = await productDatabase()
    const present = await presentBy(request, connections, now)
    const database = actingAs(connections, { kind: 'token', id: present.person.id })
    Object.assign(said, countRequest(present.person.id, now))
    const served = methods[method] ?? noSuchMethod(answered)
    if (!can(present.role, served.act)) throw mayNot(present, served.act)
    const query = new URL(request.url).searchParams
    return served.answer({ request, database, present, now, query, params: await partsOf(context) })
  })
}

/** The handlers of an address that answers everybody the same; methods beside GET are refused unless `others` answers. */
export const serveOpenly = (
  get: () => Response,
  others: (method: Method) => Response = (method) =>
    method === 'OPTIONS' ? allowing(['GET']) : noSuchMethod(['GET']),
): Record<Method, Handler> => handlersOf(async (method) => (method === 'GET' ? get() : others(method)))

/** @param answer may leave headers in `said` for whatever is answered in the end */
function handlersOf(
  answer: (
    method: Method,
    request: Request,
    context: Context,
    said: Record<string, string>,
  ) => Promise<Response>,
): Record<Method, Handler> {
  const handler =
    (method: Method): Handler =>
    async (request, context) => {
      const said: Record<string, string> = {}
      const response = await answer(method, request, context, said).catch(failed)
      for (const [name, value] of Object.entries(said)) response.headers.set(name, value)
      return response
    }
  return Object.fromEntries(METHODS.map((method) => [method, handler(method)])) as Record<Method, Handler>
}

/** The methods of an address with those that come of themselves: the web server answers HEAD where GET is. */
const listOf = (methods: readonly string[]): string =>
  [...methods.flatMap((method) => (method === 'GET' ? ['GET', 'HEAD'] : [method])), 'OPTIONS'].join(', ')

const allowing = (methods: readonly string[]) =>
  new Response(null, { status: 204, headers: { Allow: listOf(methods) } })

function noSuchMethod(methods: readonly string[]): never {
  const list = listOf(methods)
  throw new Problem('no-such-method', `This address answers ${list}`, {}, { Allow: list })
}

async function partsOf({ params }: Context): Promise<Record<string, string>> {
  return Object.fromEntries(Object.entries((await params) ?? {}).map(([name, part]) => [name, String(part)]))
}

function mayNot({ person, organisation, role }: Present, act: Act): Problem {
  logEvent('permission refused', { token: person.id, organisation, role, act })
  return new Problem('not-allowed', `A token with the role ${role} may not do that here`)
}

async function presentBy({ headers }: Request, database: Database, now: Date): Promise<Present> {
  const [, token] = /^Bearer +(\S+) *$/i.exec(headers.get('authorization') ?? '') ?? []
  const present = token === undefined ? null : await personOfToken(database, token, now)
  if (present) return present
  logEvent('token refused', { reason: token === undefined ? 'missing' : 'unknown' })
  const detail =
    token === undefined
      ? 'Send a token with the request, as "Authorization: Bearer TOKEN"'
      : 'This token was never made, or has been revoked'
  throw new Problem('no-token', detail, {}, { 'WWW-Authenticate': 'Bearer realm="gudgeon"' })
}

const DATABASE_GONE = new Problem(
  'database-gone',
  'Send it again in a moment, with the same Idempotency-Key',
  {},
  { 'Retry-After': '5' },
)

const NO_ROOM = new Problem(
  'no-room',
  'Nothing of this was kept; send it again when there is room, with the same Idempotency-Key',
)

/** What whoever tries the limits of the interface meets. Tokens, roles, rates and faults have events of their own. */
const TELLING: readonly ProblemType[] = [
  ...(['bad-address', 'not-found', 'no-such-method', 'too-large', 'media-type', 'invalid'] as const),
  ...(['key-reused', 'keys-in-use'] as const),
]

function failed(error: unknown): Response {
  if (error instanceof Problem) {
    const { type: problem } = error
    if (TELLING.includes(problem)) logEvent('request refused', { problem, status: PROBLEMS[problem].status })
    return problemResponse(error)
  }
  logEvent('unexpected error', errorDetails(error))
  if (isDatabaseGone(error)) return problemResponse(DATABASE_GONE)
  if (isDiskFull(error)) return problemResponse(NO_ROOM)
  return problemResponse(
    new Problem('fault', 'This should not have happened; the server’s own lines say why'),
  )
}
